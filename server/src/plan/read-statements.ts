import { OPERATION_PAPERS } from './authorisation.ts';
import {
  amountOf,
  anyAmountOf,
  asSection,
  dateOf,
  dateOrTimeOf,
  type Field,
  fieldOf,
  heightOf,
  listOf,
  positionOf,
  present,
  type Section,
  sectionOf,
  textOf,
  textsOf,
  timeOf,
  wordOf,
} from './fields.ts';
import type {
  Acceptance,
  Authorisation,
  ListedObstacle,
  ObstacleList,
  ObstacleSource,
  ObstacleStatement,
  PreflightStatement,
  RestrictionNotices,
  RestrictionSource,
  RestrictionStatement,
  Statement,
  StructureRequest,
} from './model.ts';
import { readOutline, readRing } from './read-outline.ts';
import { readFiles } from './read-references.ts';
import { entryOf } from './shape-errors.ts';

/** The sections of a list; entries that are none have been told. */
const sections = (fields: readonly Field[]): readonly Section[] => fields.flatMap((field) => asSection(field) ?? []);

const readStatement = (section: Section, key: string): Statement =>
  present<Statement>({
    span: section.node.span,
    key,
    seen: dateOrTimeOf(section, 'seen'),
    by: textOf(section, 'by'),
    of: textOf(section, 'of'),
  });

export const readPreflight = (section: Section | undefined): readonly PreflightStatement[] =>
  sections(listOf(section, 'preflight')).map((entry) => ({
    ...readStatement(entry, 'preflight'),
    covers: textsOf(entry, 'covers'),
  }));

/** A statement that nothing stands above a height, told by its key `none-above`, or a list. */
export const readObstacles = (section: Section | undefined): ObstacleSource | undefined => {
  if (section === undefined) return undefined;
  if (entryOf(section.node, 'none-above') !== undefined) {
    return present<ObstacleStatement>({
      kind: 'statement',
      ...readStatement(section, 'obstacles'),
      noneAbove: heightOf(section, 'none-above'),
    });
  }
  const listed = sections(listOf(section, 'listed')).flatMap((entry) => readListed(entry) ?? []);
  const requests = sections(listOf(section, 'requests')).map(readRequest);
  const files = readFiles(section, 'files');
  return { kind: 'list', span: section.node.span, files, listed, requests } satisfies ObstacleList;
};

const readListed = (entry: Section): ListedObstacle | undefined => {
  const name = textOf(entry, 'name') ?? { value: 'unnamed obstacle', span: entry.node.span };
  return present<ListedObstacle>({
    span: entry.node.span,
    name,
    at: positionOf(entry, 'at'),
    top: heightOf(entry, 'top'),
    radius: amountOf(entry, 'radius', 'length'),
    footprint: readRing(fieldOf(entry, 'footprint')),
    footprintSpan: entryOf(entry.node, 'footprint')?.value.span,
    structure: wordOf(entry, 'structure', ['yes', 'no']),
    guyWires: wordOf(entry, 'guy-wires', ['yes', 'no']),
  });
};

const readRequest = (entry: Section): StructureRequest =>
  present<StructureRequest>({
    span: entry.node.span,
    for: textOf(entry, 'for'),
    of: textOf(entry, 'of'),
    given: dateOf(entry, 'given'),
  });

/** A statement that there are none, told by its key `none-found`, or the texts of notices. */
export const readRestrictions = (section: Section | undefined): RestrictionSource | undefined => {
  if (section === undefined) return undefined;
  if (entryOf(section.node, 'none-found') !== undefined) {
    return present<RestrictionStatement>({
      kind: 'statement',
      ...readStatement(section, 'restrictions'),
      noneFound: textOf(section, 'none-found'),
    });
  }
  return present<RestrictionNotices>({
    kind: 'notices',
    span: section.node.span,
    retrieved: timeOf(section, 'retrieved'),
    notices: textsOf(section, 'notices'),
  });
};

export const readAuthorisations = (section: Section | undefined): readonly Authorisation[] =>
  sections(listOf(section, 'authorisations')).map((entry) =>
    present<Authorisation>({
      span: entry.node.span,
      number: textOf(entry, 'number'),
      zone: textOf(entry, 'zone'),
      sections: textsOf(entry, 'sections'),
      issued: dateOf(entry, 'issued'),
      upTo: heightOf(entry, 'up-to'),
      from: dateOrTimeOf(entry, 'from'),
      until: dateOrTimeOf(entry, 'until'),
      holder: textOf(entry, 'holder'),
      conditions: textsOf(entry, 'conditions'),
      ...readAuthorisedArea(sectionOf(entry, 'area')),
      grid: textOf(entry, 'grid'),
      aboveStructures: wordOf(entry, 'above-structures', ['yes', 'no']),
      kind: wordOf(entry, 'kind', OPERATION_PAPERS),
      bounds: wordOf(entry, 'bounds', ['flight geography', 'operational volume']),
    }),
  );

const readAuthorisedArea = (section: Section | undefined): Pick<Authorisation, 'area' | 'areaSpan'> =>
  section === undefined
    ? {}
    : { areaSpan: section.node.span, ...present<Pick<Authorisation, 'area'>>({ area: readOutline(section) }) };

export const readAccepts = (section: Section | undefined): readonly Acceptance[] =>
  sections(listOf(section, 'accepts')).map((entry) =>
    present<Acceptance>({
      span: entry.node.span,
      rule: textOf(entry, 'rule'),
      because: textOf(entry, 'because'),
      upTo: anyAmountOf(entry, 'up-to'),
      until: dateOf(entry, 'until'),
      item: undefined,
    }),
  );

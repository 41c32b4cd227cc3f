import {
  amountOf,
  asSection,
  asText,
  dateOrTimeOf,
  fieldOf,
  listOf,
  oneOrMore,
  present,
  type Section,
  sectionOf,
  textOf,
  wordOf,
} from './fields.ts';
import {
  type ListedPeople,
  LOW_SPEED_MATTERS,
  type LowSpeedMode,
  PEOPLE_KINDS,
  PEOPLE_STATUSES,
  type People,
} from './people.ts';
import { readOutline } from './read-outline.ts';
import { readFiles } from './read-references.ts';

export const readPeople = (section: Section | undefined): People | undefined =>
  section &&
  present<People>({
    span: section.node.span,
    key: 'people',
    seen: dateOrTimeOf(section, 'seen'),
    by: textOf(section, 'by'),
    of: textOf(section, 'of'),
    noneWithin: amountOf(section, 'none-within', 'length'),
    noAreasWithin: amountOf(section, 'no-areas-within', 'length'),
    files: readFiles(section, 'files'),
    listed: listOf(section, 'listed').flatMap((field) => {
      const entry = asSection(field);
      return entry === undefined ? [] : [readListed(entry)];
    }),
    lowSpeedMode: readLowSpeedMode(sectionOf(section, 'low-speed-mode')),
  });

const readListed = (entry: Section): ListedPeople => {
  const inside = sectionOf(entry, 'inside');
  return present<ListedPeople>({
    span: entry.node.span,
    name: textOf(entry, 'name') ?? { value: 'unnamed area', span: entry.node.span },
    kind: wordOf(entry, 'kind', PEOPLE_KINDS),
    status: wordOf(entry, 'status', PEOPLE_STATUSES),
    inside: inside && readOutline(inside),
  });
};

const readLowSpeedMode = (section: Section | undefined): LowSpeedMode | undefined =>
  section &&
  present<LowSpeedMode>({
    span: section.node.span,
    evaluated: oneOrMore(fieldOf(section, 'evaluated')).flatMap((field) => {
      const text = asText(field);
      const matter = LOW_SPEED_MATTERS.find((each) => each === text?.value);
      return text === undefined || matter === undefined ? [] : [{ value: matter, span: text.span }];
    }),
    by: textOf(section, 'by'),
  });

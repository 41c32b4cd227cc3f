import { mapping as validateMapping } from '../shape/plan-shape.generated.js';
import {
  asSection,
  type Field,
  fieldOf,
  listOf,
  oneOrMore,
  present,
  type Section,
  sectionOf,
  textOf,
  textsOf,
} from './fields.ts';
import type { ActiveTerms, Choice, Condition, EdgeTerms, Plain, RadiusTerms, ZoneMapping } from './mapping.ts';
import { inTextOrder } from './notes.ts';
import { readPlainDocument } from './read-aircraft.ts';
import { nearestWord } from './scalars/nearest-word.ts';
import type { TreeNode } from './tree.ts';

/** The words that may stand for each thing a mapping decides. */
const WORDS = {
  kind: ['controlled', 'prohibited', 'restricted', 'danger', 'geographical', 'house', 'cell', 'none'],
  class: ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'none'],
  'surface-area-of-airport': ['yes', 'no'],
  restriction: ['prohibited', 'authorisation', 'conditional', 'u-space', 'none'],
  bars: ['take-off and landing', 'flight'],
  unit: ['m', 'ft', 'FL'],
  datum: ['AGL', 'AMSL', 'standard pressure', 'above ellipsoid'],
  length: ['m', 'km', 'ft', 'mi', 'NM'],
} as const;

/** Reads a mapping file. Total, as `readPlan` is. */
export const readMapping = (text: string, document: string): ZoneMapping => {
  const { notes, root } = readPlainDocument(text, document, 'mapping', validateMapping, 'of');
  const mapping = {
    document,
    of: textOf(root, 'of')?.value,
    covers: readCovers(fieldOf(root, 'covers')),
    counts: listOf(root, 'counts').flatMap((field) => readCondition(asSection(field)) ?? []),
    id: textOf(root, 'id')?.value,
    name: textOf(root, 'name')?.value,
    text: textsOf(root, 'text').map(({ value }) => value),
    kind: readChoice(fieldOf(root, 'kind'), WORDS.kind),
    airspaceClass: readChoice(fieldOf(root, 'class'), WORDS.class),
    surfaceArea: readChoice(fieldOf(root, 'surface-area-of-airport'), WORDS['surface-area-of-airport']),
    restriction: readChoice(fieldOf(root, 'restriction'), WORDS.restriction),
    bars: readChoice(fieldOf(root, 'bars'), WORDS.bars),
    grid: readChoice(fieldOf(root, 'grid'), []),
    floor: readEdgeTerms(sectionOf(root, 'floor')),
    ceiling: readEdgeTerms(sectionOf(root, 'ceiling')),
    radius: readRadius(sectionOf(root, 'radius')),
    active: readActiveTerms(sectionOf(root, 'active')),
  };
  return present<ZoneMapping>({ ...mapping, slips: inTextOrder(notes.slips) });
};

const refuseWord = ({ node, path, notes }: Field, text: string, choices: readonly string[]): undefined => {
  const suggestion = nearestWord(text, choices);
  notes.refuse(node, path, {
    kind: 'word-unknown',
    text,
    choices,
    ...(suggestion !== undefined && { suggestion }),
  });
  return undefined;
};

/** The scalar's text where it is one of the words; any text where there are none. */
const wordIn = (field: Field, words: readonly string[]): string | undefined => {
  if (field.node.kind !== 'scalar') return undefined;
  const text = field.node.text.trim();
  return words.length === 0 || words.includes(text) ? text : refuseWord(field, text, words);
};

/** The values of the authority and the words they stand for. */
const readTable = (section: Section | undefined, words: readonly string[]): ReadonlyMap<string, string> | undefined => {
  if (section === undefined) return undefined;
  const table = new Map<string, string>();
  for (const { key } of section.node.entries) {
    const field = fieldOf(section, key.text);
    const word = field === undefined ? undefined : wordIn(field, words);
    if (word !== undefined) table.set(key.text, word);
  }
  return table;
};

const readChoice = (field: Field | undefined, words: readonly string[]): Choice | undefined => {
  if (field === undefined) return undefined;
  if (field.node.kind === 'scalar') {
    const fixed = wordIn(field, words);
    return fixed === undefined ? undefined : { fixed };
  }
  const section = asSection(field);
  const property = textOf(section, 'property')?.value;
  if (section === undefined || property === undefined) return undefined;
  const absent = fieldOf(section, 'absent');
  return present<Choice & { property: string }>({
    property,
    table: readTable(sectionOf(section, 'is'), words),
    absent: absent && wordIn(absent, words),
  });
};

const readEdgeTerms = (section: Section | undefined): EdgeTerms | undefined => {
  const property = textOf(section, 'property')?.value;
  if (section === undefined || property === undefined) return undefined;
  return present<EdgeTerms>({
    property,
    table: readTable(sectionOf(section, 'is'), []),
    absent: textOf(section, 'absent')?.value,
    unit: readChoice(fieldOf(section, 'unit'), WORDS.unit),
    datum: readChoice(fieldOf(section, 'datum'), WORDS.datum),
  });
};

const readRadius = (section: Section | undefined): RadiusTerms | undefined => {
  const property = textOf(section, 'property')?.value;
  if (section === undefined || property === undefined) return undefined;
  return present<RadiusTerms>({ property, unit: readChoice(fieldOf(section, 'unit'), WORDS.length) });
};

const readCondition = (section: Section | undefined): Condition | undefined => {
  const property = textOf(section, 'property')?.value;
  if (section === undefined || property === undefined) return undefined;
  const valuesOf = (key: string): readonly string[] | undefined => {
    const field = fieldOf(section, key);
    return field && oneOrMore(field).flatMap(({ node }) => (node.kind === 'scalar' ? [node.text.trim()] : []));
  };
  return present<Condition>({ property, is: valuesOf('is'), isNot: valuesOf('is-not') });
};

const plainOf = (node: TreeNode): Plain => {
  switch (node.kind) {
    case 'scalar':
      return node.text;
    case 'sequence':
      return node.items.map(plainOf);
    case 'mapping':
      return Object.fromEntries(node.entries.map(({ key, value }) => [key.text, plainOf(value)]));
    case 'opaque':
      return '';
  }
};

const readActiveTerms = (section: Section | undefined): ActiveTerms | undefined => {
  if (section === undefined) return undefined;
  const is = sectionOf(section, 'is');
  return present<ActiveTerms>({
    property: textOf(section, 'property')?.value,
    table: new Map((is?.node.entries ?? []).map(({ key, value }): [string, Plain] => [key.text, plainOf(value)])),
    from: textOf(section, 'from')?.value,
    until: textOf(section, 'until')?.value,
  });
};

type Covered = readonly [number, number, number, number];

/** One box of four numbers, or a list of boxes. */
const readCovers = (field: Field | undefined): readonly Covered[] | undefined => {
  if (field === undefined || field.node.kind !== 'sequence') return undefined;
  const { items } = field.node;
  const boxes = (items[0]?.kind === 'sequence' ? items : [field.node]).map(boxOf);
  const known = boxes.flatMap((box) => (box === undefined ? [] : [box]));
  if (known.length === boxes.length) return known;
  const expected = 'a box [west, south, east, north] in degrees, or a list of them';
  field.notes.refuse(field.node, field.path, { kind: 'value-of-wrong-kind', expected, found: 'something else' });
  return undefined;
};

const boxOf = (node: TreeNode): Covered | undefined => {
  if (node.kind !== 'sequence' || node.items.length !== 4) return undefined;
  const numbers = node.items.map((item) =>
    item.kind === 'scalar' && /^[-+]?\d+(?:\.\d+)?$/.test(item.text) ? Number(item.text) : Number.NaN,
  );
  const [west = Number.NaN, south = Number.NaN, east = Number.NaN, north = Number.NaN] = numbers;
  if (numbers.some(Number.isNaN) || Math.abs(west) > 180 || Math.abs(east) > 180) return undefined;
  return south >= -90 && south <= north && north <= 90 ? [west, south, east, north] : undefined;
};

import { describeField, type FieldDescription, type Path, type Reads, type Shape } from '../../plan/describe.ts';

/**
 * Values as snippets with blanks to fill: what is owed is empty, since an example's value that is left standing would be
 * believed. Only units, datums and words of the language are filled in or offered.
 */
export class Stops {
  #count = 0;

  blank(): string {
    this.#count++;
    return `\${${this.#count}}`;
  }

  /** One of several words; the first is taken where nothing is chosen. */
  choice(words: readonly string[]): string {
    if (words.length < 2) return words[0] ?? this.blank();
    this.#count++;
    return `\${${this.#count}|${words.map((word) => word.replace(/[\\,|$}]/g, '\\$&')).join(',')}|}`;
  }
}

const HEIGHT_UNITS = ['m', 'ft'];
const DATUMS = ['AGL', 'AMSL', 'above take-off'];

/** Units in which a field may be written: its `x-unit` is a list in words. */
export const unitsOf = (field: FieldDescription): readonly string[] => {
  if (field.reads === 'height') return HEIGHT_UNITS;
  if (field.reads === 'amount' || field.unit === undefined) return [];
  return field.unit.split(/, (?:with )?| or /).filter((word) => /^\S{1,5}$/.test(word));
};

/** The word that a field's first example uses comes first. */
const usualFirst = (words: readonly string[], field: FieldDescription): readonly string[] => {
  const example = String(field.examples[0] ?? '');
  const usual = words.find((word) => example.split(/(?<=\d)\s*|\s/).includes(word) || example.endsWith(` ${word}`));
  return usual === undefined ? words : [usual, ...words.filter((word) => word !== usual)];
};

const WITH_UNIT: ReadonlySet<Reads> = new Set([
  'length',
  'speed',
  'time',
  'mass',
  'angle',
  'pressure',
  'energy',
  'power',
  'share',
  'density',
  'surface',
  'temperature',
]);

const scalarBlank = (field: FieldDescription, stops: Stops): string | undefined => {
  const { reads, choices } = field;
  if (choices !== undefined) return stops.choice(usualFirst(choices, field));
  if (reads === 'format') return '1';
  if (reads === 'height')
    return `${stops.blank()} ${stops.choice(usualFirst(HEIGHT_UNITS, field))} ${stops.choice(usualFirst(DATUMS, field))}`;
  if (reads === 'leg-speed')
    return `${stops.blank()} ${stops.choice(usualFirst(unitsOf(field), field))} ${stops.choice(['over ground', 'through air'])}`;
  if (reads === 'follows') {
    const unit = stops.choice(['m', 'ft']);
    return `${stops.blank()} ${unit} AGL within ${stops.blank()} m`;
  }
  if (reads !== undefined && WITH_UNIT.has(reads))
    return `${stops.blank()} ${stops.choice(usualFirst(unitsOf(field), field))}`.trimEnd();
  return reads === undefined ? undefined : stops.blank();
};

/** The keys that a group is begun with: the required ones, and those that its first example has. */
const usualKeys = (field: FieldDescription): readonly string[] => {
  const [example] = field.examples;
  const shown = typeof example === 'object' && example !== null && !Array.isArray(example) ? Object.keys(example) : [];
  const known = shown.filter((key) => field.keys?.includes(key));
  return [...new Set([...(field.required ?? []), ...known])];
};

const isGroup = (field: FieldDescription | undefined): boolean =>
  field?.keys !== undefined && field.reads === undefined;

/** `{ lat: ${1}, lon: ${2} }`, or in a block, where one of its keys is a group itself, one key a line. */
const groupBlank = (field: FieldDescription, shape: Shape, path: Path, writing: Writing): string => {
  const keys = usualKeys(field);
  const { style, stops, pad } = writing;
  if (keys.length === 0) return `{ ${stops.blank()} }`;
  const hasGroups = keys.some((key) => isGroup(describeField(shape, [...path, key])));
  if (style === 'flow' || !hasGroups) {
    const inside: Writing = { ...writing, style: 'flow' };
    return `{ ${keys.map((key) => `${key}: ${valueBlank(shape, [...path, key], inside)}`).join(', ')} }`;
  }
  const below: Writing = { ...writing, pad: `${pad}  ` };
  return keys.map((key) => `\n${below.pad}${keyWithBlank(shape, path, key, below)}`).join('');
};

/** How and where a snippet is written. */
export interface Writing {
  readonly style: 'block' | 'flow';
  /** Indentation of the keys, counted from the line in which the snippet is put in. */
  readonly pad: string;
  readonly stops: Stops;
}

/** The value of a field as a snippet, without the blank after its colon. */
const valueBlank = (shape: Shape, path: Path, writing: Writing): string => {
  const { style, stops } = writing;
  const field = describeField(shape, path);
  if (field === undefined) return stops.blank();
  if (path.length === 1 && path[0] === 'route') return routeBlank(writing);
  if (field.reads === 'position' && style === 'flow') return groupBlank(field, shape, path, writing);
  const scalar = scalarBlank(field, stops);
  if (scalar !== undefined && !(field.list && field.reads === 'reference' && field.keys === undefined)) return scalar;
  if (field.list) {
    const entry = describeField(shape, [...path, 0]);
    // The comma of a position would part it in brackets.
    if (entry?.reads === 'position' && style === 'block') return `\n${writing.pad}  - ${stops.blank()}`;
    if (!isGroup(entry) || entry === undefined) return `[${stops.blank()}]`;
    return `[${groupBlank(entry, shape, [...path, 0], { ...writing, style: 'flow' })}]`;
  }
  return field.keys === undefined ? stops.blank() : groupBlank(field, shape, path, writing);
};

const routeBlank = ({ style, stops, pad }: Writing): string => {
  if (style === 'flow') return `[${stops.blank()}]`;
  const items = [`take-off: ${stops.blank()}`, stops.blank(), `land: ${stops.blank()}`];
  return items.map((item) => `\n${pad}  - ${item}`).join('');
};

/** `altitude: ${1} ${2|m,ft|} ${3|AGL,AMSL,above take-off|}` */
export const keyWithBlank = (shape: Shape, group: Path, key: string, writing: Writing): string => {
  const value = valueBlank(shape, [...group, key], writing);
  return value.startsWith('\n') ? `${key}:${value}` : `${key}: ${value}`;
};

/** An entry of a list: a group with these keys, or the usual ones; in a block they stand one under the other. */
export const entryWithBlanks = (
  shape: Shape,
  path: Path,
  style: 'block' | 'flow',
  more: readonly string[] = [],
): string => {
  const field = describeField(shape, path);
  if (field === undefined) return '';
  const keys = [...new Set([...usualKeys(field), ...more])];
  // A dash and a blank stand before the first key.
  const writing: Writing = { style, pad: '  ', stops: new Stops() };
  if (style === 'block') return keys.map((key) => keyWithBlank(shape, path, key, writing)).join('\n  ');
  return `{ ${keys.map((key) => keyWithBlank(shape, path, key, writing)).join(', ')} }`;
};

/** The same text for a client that knows no snippets: the blanks stay empty and the first of each choice stands. */
export const withoutStops = (snippet: string): string =>
  snippet
    .replace(/\$\{\d+\|((?:\\.|[^,|\\])*)[^}]*\}/g, (_, first: string) => first.replace(/\\(.)/g, '$1'))
    .replace(/\$\{\d+\}|\$\d/g, '');

import { CompletionItemKind } from 'vscode-languageserver';
import { describeField, type FieldDescription, ITEM_SHAPES, type ItemShape, type Shape } from '../../plan/describe.ts';
import { entryWithBlanks, keyWithBlank, Stops, type Writing } from './blanks-to-fill.ts';
import type { Cursor } from './cursor.ts';
import type { Suggestion } from './suggestion.ts';

/** Keys that most items of a kind have, beside the required ones. */
const USUAL: Readonly<Partial<Record<ItemShape, readonly string[]>>> = {
  point: ['leg'],
  area: ['speed'],
  survey: ['spacing', 'speed'],
  corridor: ['speed'],
  circle: ['speed'],
  battery: ['for'],
};

export const tell = (field: FieldDescription): string =>
  [
    field.description,
    ...(field.unit === undefined ? [] : [`Units: ${field.unit}`]),
    ...(field.examples.length === 0 ? [] : [`For example: ${sayExample(field.examples[0])}`]),
  ].join('\n\n');

const sayExample = (example: unknown): string => {
  if (Array.isArray(example)) return `[${example.map(sayExample).join(', ')}]`;
  if (typeof example !== 'object' || example === null) return String(example);
  return `{ ${Object.entries(example)
    .map(([key, value]) => `${key}: ${sayExample(value)}`)
    .join(', ')} }`;
};

/** Values that are picked from a list once their key stands there. */
const isPicked = ({ reads, choices }: FieldDescription): boolean =>
  choices === undefined && (reads === 'reference' || reads === 'text' || reads === 'stands' || reads === 'position');

/** The keys that a group does not have yet, the required ones first. */
export const suggestKeys = (cursor: Cursor): readonly Suggestion[] => {
  const { shape, path, style } = cursor;
  const group = describeField(shape, path);
  if (group?.keys === undefined) return [];
  return group.keys
    .filter((key) => !cursor.keys.has(key))
    .flatMap((key): readonly Suggestion[] => {
      const field = describeField(shape, [...path, key]);
      if (field === undefined) return [];
      const isRequired = group.required?.includes(key) === true;
      return [
        {
          label: key,
          kind: CompletionItemKind.Property,
          ...(cursor.hasColon
            ? {}
            : { text: keyWithBlank(shape, path, key, { style, pad: '', stops: new Stops() }), isSnippet: true }),
          ...(isRequired ? { detail: 'required' } : {}),
          documentation: tell(field),
          rank: isRequired ? 0 : 1,
          opensMore: isPicked(field),
        },
      ];
    });
};

/** The keys that a whole document is begun with. */
const BEGUN_WITH: Readonly<Partial<Record<Shape, { readonly label: string; readonly keys: readonly string[] }>>> = {
  mission: {
    label: 'a whole plan',
    keys: [
      'mission',
      'title',
      'purpose',
      'country',
      'window',
      'aircraft',
      'site',
      'crew',
      'terrain',
      'airspace',
      'restrictions',
      'obstacles',
      'people',
      'weather',
      'route',
      'lost-link',
    ],
  },
  aircraft: {
    label: 'a whole aircraft file',
    keys: [
      'aircraft',
      'name',
      'kind',
      'mass',
      'size',
      'max-speed',
      'cruise-speed',
      'climb-rate',
      'descent-rate',
      'max-wind',
      'endurance',
      'battery',
      'power',
      'reserve',
      'registration',
      'remote-identification',
    ],
  },
  settings: { label: 'a whole settings file', keys: ['settings', 'country'] },
  mapping: {
    label: 'a whole mapping',
    keys: ['mapping', 'of', 'counts', 'id', 'name', 'kind', 'class', 'floor', 'ceiling'],
  },
};

/** A document from the start, where nothing stands in it yet: every value is blank. */
export const suggestWhole = (cursor: Cursor): readonly Suggestion[] => {
  const begun = BEGUN_WITH[cursor.shape];
  if (begun === undefined || cursor.path.length > 0 || cursor.keys.size > 0 || cursor.style === 'flow') return [];
  const writing: Writing = { style: 'block', pad: '', stops: new Stops() };
  const text = begun.keys.map((key) => keyWithBlank(cursor.shape, [], key, writing)).join('\n');
  const [first = ''] = begun.keys;
  const detail = 'every value is blank';
  return [
    {
      label: begun.label,
      kind: CompletionItemKind.Snippet,
      text: `${text}\n`,
      isSnippet: true,
      detail,
      matched: `${first} ${begun.label}`,
      rank: 0,
    },
  ];
};

/** Every kind of route item, with its required keys. */
const suggestItems = (cursor: Cursor): readonly Suggestion[] =>
  ITEM_SHAPES.flatMap((shape) => {
    const field = describeField(shape, []);
    if (field === undefined) return [];
    return [
      {
        label: shape,
        kind: CompletionItemKind.Struct,
        text: entryWithBlanks(shape, [], cursor.style, USUAL[shape]),
        isSnippet: true,
        detail: 'route item',
        documentation: tell(describeField(shape, [shape]) ?? field),
        rank: shape === 'point' || shape === 'area' ? 0 : 1,
      },
    ];
  });

/** What can stand as a new entry of a list of groups: the group with its required keys. */
export const suggestEntries = (cursor: Cursor): readonly Suggestion[] => {
  if (cursor.isNewItem) return suggestItems(cursor);
  const entry = describeField(cursor.shape, [...cursor.path, 0]);
  if (entry?.keys === undefined || entry.reads !== undefined) return [];
  const keys = entry.required ?? entry.keys.slice(0, 1);
  const [label = ''] = keys;
  return [
    {
      label,
      kind: CompletionItemKind.Struct,
      text: entryWithBlanks(cursor.shape, [...cursor.path, 0], cursor.style),
      isSnippet: true,
      detail: keys.join(', '),
      documentation: tell(entry),
    },
  ];
};

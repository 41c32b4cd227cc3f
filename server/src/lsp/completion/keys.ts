import { CompletionItemKind } from 'vscode-languageserver';
import { describeField, type FieldDescription, ITEM_SHAPES, type ItemShape } from '../../plan/describe.ts';
import { entryWithBlanks, keyWithBlank, Stops } from './blanks-to-fill.ts';
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

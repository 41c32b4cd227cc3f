import { describeField, type FieldDescription, type Path, type Shape } from '../plan/describe.ts';
import type { Mapping, TreeNode } from '../plan/tree.ts';
import type { Span } from '../text/span.ts';
import { sayChoices } from '../units/say.ts';
import type { OpenDocument } from './documents.ts';
import { covers, itemShapeOf } from './trees.ts';

/** A key or value in a document's tree: the keys that lead there, and where it stands. */
interface Found {
  readonly shape: Shape;
  readonly path: Path;
  readonly span: Span;
}

/** The innermost key or value of a mapping at an offset. */
const inMapping = (mapping: Mapping, offset: number, shape: Shape, path: Path): Found | undefined => {
  const entry = mapping.entries.find(({ span }) => covers(span, offset));
  if (entry === undefined) return undefined;
  const own: Path = [...path, entry.key.text];
  if (covers(entry.key.span, offset)) return { shape, path: own, span: entry.key.span };
  return inNode(entry.value, offset, shape, own);
};

const inNode = (node: TreeNode, offset: number, shape: Shape, path: Path): Found | undefined => {
  if (!covers(node.span, offset)) return undefined;
  if (node.kind === 'mapping') return inMapping(node, offset, shape, path);
  if (node.kind !== 'sequence') return { shape, path, span: node.span };
  const index = node.items.findIndex(({ span }) => covers(span, offset));
  const item = node.items[index];
  if (item === undefined) return undefined;
  if (shape !== 'mission' || path[0] !== 'route' || path.length !== 1)
    return inNode(item, offset, shape, [...path, index]);
  const kind = itemShapeOf(item);
  return kind === undefined ? undefined : inNode(item, offset, kind, []);
};

const find = (document: OpenDocument, offset: number): Found | undefined => {
  const { language } = document;
  for (const { role, root } of document.trees.of(document).blocks) {
    if (root === undefined || !covers(root.span, offset)) continue;
    if (role !== 'item') return inNode(root, offset, language, []);
    const items = root.kind === 'sequence' ? root.items : [root];
    const item = items.find(({ span }) => covers(span, offset));
    const kind = item === undefined ? undefined : itemShapeOf(item);
    return item === undefined || kind === undefined ? undefined : inNode(item, offset, kind, []);
  }
  return undefined;
};

/** Most plans fall into the trap that a field's description names, so that the hover tells the way out of it. */
const FOLLOWS =
  'A leg that is to keep its height over the ground below it says so: `leg: { follows: 60 m AGL within 5 m }`.';

const EXAMPLES_SHOWN = 3;

/** An example as a pilot writes it. */
const sayExample = (example: unknown): string => {
  if (typeof example !== 'object' || example === null) return String(example);
  if (Array.isArray(example)) return `[${example.map(sayExample).join(', ')}]`;
  const parts = Object.entries(example).map(([key, value]) => `${key}: ${sayExample(value)}`);
  return `{ ${parts.join(', ')} }`;
};

const inCode = (text: string): string => `\`${text.replaceAll('`', "'")}\``;

const tellField = (found: Found, name: string, field: FieldDescription): string => {
  const examples = field.examples.slice(0, EXAMPLES_SHOWN).map((example) => inCode(sayExample(example)));
  const facts = [
    ...(field.unit === undefined ? [] : [`Units: ${field.unit}`]),
    ...(field.choices === undefined ? [] : [`One of: ${field.choices.map(inCode).join(', ')}`]),
    ...(field.keys === undefined ? [] : [`Keys: ${field.keys.map(inCode).join(', ')}`]),
    ...(examples.length === 0 ? [] : [`For example ${sayChoices(examples)}`]),
  ];
  return [
    `**${name}**: ${field.description}`,
    ...(facts.length === 0 ? [] : [facts.join('  \n')]),
    ...(found.shape === 'point' && name === 'altitude' ? [FOLLOWS] : []),
  ].join('\n\n');
};

/** What the schema says of the key or value at an offset. */
export const fieldAt = (
  document: OpenDocument,
  offset: number,
): readonly { readonly span: Span; readonly text: string }[] => {
  const found = find(document, offset);
  if (found === undefined) return [];
  const field = describeField(found.shape, found.path);
  const name = [...found.path].reverse().find((step) => typeof step === 'string');
  if (field === undefined || name === undefined) return [];
  return [{ span: found.span, text: tellField(found, String(name), field) }];
};

import { endOf, type Span, startOf } from '../text/span.ts';
import type { Blocks } from './blocks.ts';
import { ITEM_SHAPES, type ItemShape, type Path, type Shape } from './describe.ts';
import { entryOf } from './shape-errors.ts';
import type { TreeNode } from './tree.ts';

/** What stands at an offset of a document. */
export interface PathAt {
  /** What the path starts from: the document, or a route item of this kind. */
  readonly shape: Shape;
  /** The item of the route, counted from 0. */
  readonly item?: number;
  readonly path: Path;
  readonly key?: Span;
  readonly value?: Span;
}

/** The telling key of a route item. */
export const itemShapeOf = (node: TreeNode | undefined): ItemShape | undefined =>
  node?.kind === 'mapping' ? ITEM_SHAPES.find((shape) => entryOf(node, shape) !== undefined) : undefined;

/**
 * The innermost key or value at an offset, as the path that `describeField` takes. Beside any key, the group that the
 * offset lies in; undefined outside the document and in an item of an unknown kind.
 */
export const pathAt = (
  { blocks }: Blocks,
  offset: number,
  document: 'mission' | 'aircraft' | 'settings',
): PathAt | undefined => {
  const index = blocks.findLastIndex(({ anchor }) => anchor.at <= offset);
  const block = blocks[index];
  if (block === undefined || offset > block.anchor.at + block.text.length) return undefined;
  if (block.role !== 'item') {
    return block.root === undefined
      ? { shape: document, path: [] }
      : within(block.root, offset, { shape: document, path: [] });
  }
  const node = block.root?.kind === 'sequence' ? block.root.items[0] : block.root;
  const shape = itemShapeOf(node);
  if (node === undefined || shape === undefined) return undefined;
  // The blocks before it are the head and the items before.
  return within(node, offset, { shape, item: index - 1, path: [] });
};

const covers = (span: Span, offset: number): boolean => startOf(span) <= offset && offset <= endOf(span);

const within = (node: TreeNode, offset: number, here: PathAt): PathAt | undefined => {
  if (node.kind === 'mapping') {
    const entry = node.entries.find(({ span }) => covers(span, offset));
    if (entry === undefined) return here;
    const path = [...here.path, entry.key.text];
    const found = { ...here, path, key: entry.key.span, value: entry.value.span };
    return covers(entry.value.span, offset) && !covers(entry.key.span, offset)
      ? within(entry.value, offset, found)
      : found;
  }
  if (node.kind !== 'sequence') return here;
  const index = node.items.findIndex(({ span }) => covers(span, offset));
  const item = node.items[index];
  if (item === undefined) return here;
  if (here.shape !== 'mission' || here.path.length !== 1 || here.path[0] !== 'route') {
    return within(item, offset, {
      shape: here.shape,
      ...(here.item !== undefined && { item: here.item }),
      path: [...here.path, index],
      value: item.span,
    });
  }
  const shape = itemShapeOf(item);
  return shape === undefined ? undefined : within(item, offset, { shape, item: index, path: [], value: item.span });
};

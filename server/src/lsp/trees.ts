import { type Blocks, readBlocks, readWhole } from '../plan/blocks.ts';
import { ITEM_SHAPES, type Path, type Shape } from '../plan/describe.ts';
import type { Entry, TreeNode } from '../plan/tree.ts';
import { endOf, type Span, startOf } from '../text/span.ts';
import type { Language, OpenDocument } from './documents.ts';

/**
 * The trees of a document's text, read when they are first asked for and shared by all who ask. The holder is handed on
 * from text to text, so that an edit reads only what it changed; places in it move with the next text.
 */
export class Trees {
  #serial = -1;
  #blocks: Blocks | undefined;

  of({ serial, language, text, location }: Omit<OpenDocument, 'trees'>): Blocks {
    if (this.#blocks !== undefined && serial === this.#serial) return this.#blocks;
    this.#blocks = blocksOfText(text, location, language, this.#blocks);
    this.#serial = serial;
    return this.#blocks;
  }
}

export const blocksOfText = (text: string, location: string, language: Language, earlier?: Blocks): Blocks =>
  language === 'mission' ? readBlocks(text, location, earlier) : readWhole(text, location);

/** The kind of a route item is its telling key. */
export const itemShapeOf = (item: TreeNode): Shape | undefined =>
  item.kind === 'mapping' ? ITEM_SHAPES.find((shape) => item.entries.some(({ key }) => key.text === shape)) : undefined;

export const covers = (span: Span, offset: number): boolean => startOf(span) <= offset && offset <= endOf(span);

/** A value met on a walk: the shape its path starts from, and the key it stands under where it has one of its own. */
export interface Met {
  readonly shape: Shape;
  readonly path: Path;
  readonly node: TreeNode;
  readonly key?: Entry['key'];
}

/** Walks over every value of a document, groups before what they hold. */
export function* walkTrees({ blocks }: Blocks, language: Language): Generator<Met> {
  for (const { role, root } of blocks) {
    if (root === undefined) continue;
    if (role !== 'item') yield* walk({ shape: language, path: [], node: root });
    else for (const item of root.kind === 'sequence' ? root.items : [root]) yield* walkItem(item);
  }
}

function* walkItem(item: TreeNode): Generator<Met> {
  const shape = itemShapeOf(item);
  if (shape !== undefined) yield* walk({ shape, path: [], node: item });
}

function* walk(met: Met): Generator<Met> {
  yield met;
  const { shape, path, node } = met;
  if (node.kind === 'mapping') {
    for (const { key, value } of node.entries) yield* walk({ shape, path: [...path, key.text], node: value, key });
    return;
  }
  if (node.kind !== 'sequence') return;
  const isRoute = shape === 'mission' && path.length === 1 && path[0] === 'route';
  for (const [i, item] of node.items.entries()) {
    if (isRoute) yield* walkItem(item);
    else yield* walk({ shape, path: [...path, i], node: item });
  }
}

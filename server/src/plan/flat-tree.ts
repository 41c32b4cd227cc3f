import type { TreeNode } from './tree.ts';

/** What a field holds, by the way to it: `leg.speed` → `8 m/s over ground`, `terrain[1].file` → `north.tif`. */
export type FlatTree = ReadonlyMap<string, string>;

/** Text of a value that holds no others. What could not be read is told as such. */
const leafOf = (node: TreeNode): string => (node.kind === 'scalar' ? node.text : 'unreadable');

/** All values of a tree, in the order of the text. Empty maps and lists stand for themselves. */
export const flatten = (node: TreeNode): FlatTree => {
  const flat = new Map<string, string>();
  const walk = (at: TreeNode, path: string): void => {
    if (at.kind === 'mapping' && at.entries.length > 0) {
      for (const { key, value } of at.entries) walk(value, path === '' ? key.text : `${path}.${key.text}`);
    } else if (at.kind === 'sequence' && at.items.length > 0) {
      at.items.forEach((item, i) => {
        walk(item, `${path}[${i + 1}]`);
      });
    } else flat.set(path, at.kind === 'mapping' ? '{ }' : at.kind === 'sequence' ? '[ ]' : leafOf(at));
  };
  walk(node, '');
  return flat;
};

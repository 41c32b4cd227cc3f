import type { Range, SelectionRange } from 'vscode-languageserver';
import type { TreeNode } from '../../plan/tree.ts';
import { endOf, type Span, startOf } from '../../text/span.ts';
import { rangeBetween } from '../convert.ts';
import type { OpenDocument } from '../documents.ts';
import { covers } from '../trees.ts';

/** The spans around an offset in a tree, the widest first. */
const spansIn = (node: TreeNode, offset: number): readonly Span[] => {
  if (!covers(node.span, offset)) return [];
  if (node.kind === 'mapping') {
    const entry = node.entries.find(({ span }) => covers(span, offset));
    if (entry === undefined) return [node.span];
    const inside = covers(entry.key.span, offset) ? [entry.key.span] : spansIn(entry.value, offset);
    return [node.span, entry.span, ...inside];
  }
  if (node.kind === 'sequence') {
    const item = node.items.find(({ span }) => covers(span, offset));
    return [node.span, ...(item === undefined ? [] : spansIn(item, offset))];
  }
  return [node.span];
};

/** A number, a unit or a word within a scalar. */
const wordAt = (text: string, offset: number): readonly [number, number] => {
  let [from, to] = [offset, offset];
  while (from > 0 && /[^\s,:{}[\]"']/.test(text.charAt(from - 1))) from--;
  while (to < text.length && /[^\s,:{}[\]"']/.test(text.charAt(to))) to++;
  return [from, to];
};

/** What widens a selection step by step: word, value, entry, group, item, document. */
export const selectionAt = (document: OpenDocument, offset: number): SelectionRange => {
  const { text, lines } = document;
  const spans = document.trees
    .of(document)
    .blocks.flatMap(({ root }) => (root === undefined ? [] : spansIn(root, offset)))
    .map((span) => [startOf(span), endOf(span)] as const);
  let found: SelectionRange = { range: rangeBetween(lines, 0, text.length) };
  let [outerFrom, outerTo] = [0, text.length];
  for (const [from, to] of [...spans, wordAt(text, offset)]) {
    // Each has to lie inside the one before and be smaller, or a client drops them all.
    if (from < outerFrom || to > outerTo || to - from >= outerTo - outerFrom || to === from) continue;
    const range: Range = rangeBetween(lines, from, to);
    found = { range, parent: found };
    [outerFrom, outerTo] = [from, to];
  }
  return found;
};

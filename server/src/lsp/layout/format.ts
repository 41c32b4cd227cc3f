import type { TextEdit } from 'vscode-languageserver';
import type { TreeNode } from '../../plan/tree.ts';
import { endOf, startOf } from '../../text/span.ts';
import { rangeBetween } from '../convert.ts';
import type { Language, OpenDocument } from '../documents.ts';
import { blocksOfText, walkTrees } from '../trees.ts';

/** A change of white space: the characters from `from` to `to` become `text`. */
interface Cut {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** Ranges in which white space is text: quoted and block scalars. */
const textual = (text: string, location: string, language: Language): readonly (readonly [number, number])[] =>
  [...walkTrees(blocksOfText(text, location, language), language)].flatMap(({ node, key }) =>
    [key, node].flatMap((scalar) =>
      scalar?.kind === 'scalar' && scalar.style !== 'plain'
        ? [[startOf(scalar.span), endOf(scalar.span)] as const]
        : [],
    ),
  );

const tidyLine = (line: string, at: number): readonly Cut[] => {
  const cuts: Cut[] = [];
  const cut = (from: number, to: number, text: string): void => {
    if (line.slice(from, to) !== text) cuts.push({ from: at + from, to: at + to, text });
  };
  const trailing = /[ \t]+$/.exec(line);
  const end = trailing?.index ?? line.length;
  if (trailing !== null) cut(trailing.index, line.length, '');
  // One blank after a key's colon and after a dash; the columns of a table that somebody lined up stay in comments only.
  const head = /^(?<lead> *)(?<dashes>(?:-[ \t]+)*)(?<key>[A-Za-z][A-Za-z0-9-]*[ \t]*:)?(?<gap>[ \t]*)/.exec(
    line,
  )?.groups;
  if (head === undefined || line.trimStart().startsWith('#')) return cuts;
  const { lead = '', dashes = '', key = '', gap = '' } = head;
  let column = lead.length + dashes.length;
  if (key !== '') {
    const blanks = /[ \t]+:$/.exec(key);
    if (blanks !== null) cut(column + blanks.index, column + key.length - 1, '');
    column += key.length;
    if (column + gap.length < end && line.charAt(column + gap.length) !== '#') cut(column, column + gap.length, ' ');
  }
  return cuts;
};

/** Blanks inside braces and brackets, and around their commas and colons. */
const tidyFlow = (node: TreeNode, text: string): readonly Cut[] => {
  if ((node.kind !== 'mapping' && node.kind !== 'sequence') || node.style !== 'flow') return [];
  const [from, to] = [startOf(node.span), endOf(node.span)];
  const whole = text.slice(from, to);
  if (/[\n\r#]/.test(whole) || !/[}\]]$/.test(whole)) return [];
  const parts = node.kind === 'mapping' ? node.entries.map(({ span }) => span) : node.items.map(({ span }) => span);
  const [first] = parts;
  const last = parts.at(-1);
  if (first === undefined || last === undefined) return [];
  const pad = node.kind === 'mapping' ? ' ' : '';
  const gaps: (readonly [number, number, string])[] = [[from + 1, startOf(first), pad]];
  parts.slice(1).forEach((part, i) => {
    const before = parts[i];
    if (before !== undefined) gaps.push([endOf(before), startOf(part), ', ']);
  });
  gaps.push([endOf(last), to - 1, pad]);
  if (node.kind === 'mapping')
    for (const { key, value, lone } of node.entries)
      if (!lone && startOf(value.span) < endOf(value.span)) gaps.push([endOf(key.span), startOf(value.span), ': ']);
  return gaps.flatMap(([start, end, wanted]) => {
    const now = text.slice(start, end);
    // Only white space and the mark between two parts may stand there; anything else is left alone.
    return now !== wanted && now.replace(/\s/g, '') === wanted.trim() ? [{ from: start, to: end, text: wanted }] : [];
  });
};

const apply = (text: string, cuts: readonly Cut[]): string =>
  cuts.toReversed().reduce((now, { from, to, text: by }) => now.slice(0, from) + by + now.slice(to), text);

/** What a document says, without the places where it says it: all that is read is read from these trees. */
const readingOf = (text: string, location: string, language: Language): string => {
  const { blocks, slips } = blocksOfText(text, location, language);
  const read = blocks.map(({ role, root, slips: own, broken }) => ({ role, root, slips: own, broken }));
  return JSON.stringify({ read, slips }, (key, value: unknown) => (key === 'span' ? 0 : value));
};

/** Two readings of a larger text would make the typist wait. */
const LARGEST = 400_000;

/**
 * Tidies white space and nothing else: blanks at the ends of lines, after colons and dashes, in braces and brackets, and
 * blank lines at the end. Comments, quotes, order and indentation stay. A change that would change what the document says
 * is not made at all: it is read before and after.
 */
export const formattingOf = (document: OpenDocument, within?: readonly [number, number]): TextEdit[] => {
  const { text, location, language, lines } = document;
  if (text.length > LARGEST) return [];
  const kept = textual(text, location, language);
  const flows = [...walkTrees(blocksOfText(text, location, language), language)].flatMap(({ node }) =>
    tidyFlow(node, text),
  );
  const all: Cut[] = [];
  for (const match of text.matchAll(/[^\n\r]*(?:\r\n|\n|\r|$)/g)) {
    if (match[0] === '') continue;
    all.push(...tidyLine(match[0].replace(/[\r\n]+$/, ''), match.index));
  }
  const end = /(\r\n|\n)(?:[ \t]*(?:\r\n|\n))+$/.exec(text);
  if (end !== null) all.push({ from: end.index + (end[1] ?? '').length, to: text.length, text: '' });
  const inText = ({ from, to }: Cut): boolean => kept.some(([start, stop]) => from < stop && to > start);
  const inside = ({ from, to }: Cut): boolean => within === undefined || (from >= within[0] && to <= within[1]);
  const cuts: Cut[] = [];
  for (const cut of [...flows, ...all].sort((one, other) => one.from - other.from || other.to - one.to)) {
    const before = cuts[cuts.length - 1];
    if (inText(cut) || !inside(cut) || (before !== undefined && cut.from < before.to)) continue;
    if (before?.from === cut.from && before.to === cut.to) continue;
    cuts.push(cut);
  }
  if (cuts.length === 0 || readingOf(text, location, language) !== readingOf(apply(text, cuts), location, language))
    return [];
  return cuts.map((cut) => ({ range: rangeBetween(lines, cut.from, cut.to), newText: cut.text }));
};

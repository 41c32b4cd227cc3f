import type { Anchor, Span } from '../text/span.ts';
import { DASH, isEmpty, type Line, lineAt } from './split.ts';
import { type BareSlip, type Entry, type Piece, readPiece, type Scalar, type Tree, type TreeNode } from './tree.ts';

/** Text that is not YAML is taken apart no further than this many levels. */
const DEEPEST_RECOVERY = 8;
/** Syntax errors told of one block; the number of the others is told with the last. */
const MOST_ERRORS = 20;

const KEY = /^([A-Za-z][A-Za-z0-9_-]*)[ \t]*:(?=[ \t]|$)[ \t]*/;

/**
 * Reads a text that has a syntax error key by key and item by item, as the indentation shows them, so that the error
 * spoils only the value it stands in. What it spoils is opaque. Used for texts that the whole parse refuses; what it
 * accepts is never read this way.
 */
export const readAroundErrors = (text: string, anchor: Anchor, whole: Tree): Tree => {
  const recovery: Recovery = { anchor, slips: [], left: 0 };
  const root = recoverPart({ text, at: 0 }, recovery, 0);
  const errors = recovery.slips;
  // Each part alone may be in order and only their arrangement wrong: then the whole text's error holds.
  if (errors.every(({ kind }) => kind === 'yaml-not-plain')) errors.push(...whole.slips.filter(isError));
  if (recovery.left > 0) {
    const last = errors.findLastIndex(isError);
    const error = errors[last];
    if (error?.kind === 'yaml-broken') {
      errors[last] = { ...error, reason: `${error.reason} (and ${recovery.left} more places like this)` };
    }
  }
  return { ...(root && { root }), slips: errors, broken: true };
};

interface Recovery {
  readonly anchor: Anchor;
  readonly slips: BareSlip[];
  /** Errors beyond the most that are told. */
  left: number;
}

const isError = ({ kind }: BareSlip): boolean => kind === 'yaml-broken' || kind === 'document-too-large';

const recoverPart = (part: Piece, recovery: Recovery, depth: number): TreeNode | undefined => {
  const parts = takeApart(part);
  if (parts === undefined || depth > DEEPEST_RECOVERY) return giveUp(part, recovery, readPiece(part, recovery.anchor));
  const nodes = parts.pieces.map((piece) => recoverPiece(piece, recovery, depth));
  if (parts.are === 'items') {
    const items = nodes.flatMap((node) =>
      node === undefined ? [] : 'kind' in node ? [node] : node.map((e) => e.value),
    );
    return { kind: 'sequence', style: 'block', items, span: around(items, part, recovery.anchor) };
  }
  const entries = nodes.flatMap((node) => (node === undefined || 'kind' in node ? [] : node));
  return { kind: 'mapping', style: 'block', entries, span: around(entries, part, recovery.anchor) };
};

/** Items of a list piece, or entries of a map piece; undefined where nothing can be kept. */
const recoverPiece = (
  piece: Piece & { readonly head: Line },
  recovery: Recovery,
  depth: number,
): TreeNode | readonly Entry[] | undefined => {
  const tree = readPiece(piece, recovery.anchor);
  const isItem = DASH.test(piece.head.content);
  if (!tree.broken) {
    if (isItem && tree.root?.kind === 'sequence' && tree.root.items.length === 1) {
      recovery.slips.push(...tree.slips);
      return tree.root.items[0];
    }
    if (!isItem && tree.root?.kind === 'mapping') {
      recovery.slips.push(...tree.slips);
      return tree.root.entries;
    }
    return giveUpLine(piece, recovery);
  }
  const dash = piece.head.from + piece.head.indent;
  if (isItem) {
    const inner = { text: `${piece.text.slice(0, dash)} ${piece.text.slice(dash + 1)}`, at: piece.at };
    return recoverPart(inner, recovery, depth + 1) ?? giveUp(piece, recovery, tree);
  }
  const [written, word] = KEY.exec(piece.head.content) ?? [];
  if (written === undefined || word === undefined) {
    giveUp(piece, recovery, tree);
    return undefined;
  }
  const key: Scalar = {
    kind: 'scalar',
    text: word,
    style: 'plain',
    span: spanIn(piece, dash, dash + word.length, recovery),
  };
  const rest = piece.head.content.slice(written.length);
  const nested =
    rest === '' || rest.startsWith('#')
      ? { text: piece.text.slice(piece.head.next), at: piece.at + piece.head.next }
      : undefined;
  const value =
    nested !== undefined && takeApart(nested) !== undefined
      ? recoverPart(nested, recovery, depth + 1)
      : giveUp({ text: piece.text, at: piece.at }, recovery, tree, dash + written.length);
  if (value === undefined) return undefined;
  return [{ key, value, span: { ...key.span, to: value.span.to }, lone: false }];
};

/** The part's text as opaque, with the error that spoilt it. */
const giveUp = (part: Piece, recovery: Recovery, tree: Tree, from = 0): TreeNode => {
  for (const slip of tree.slips) {
    if (!isError(slip)) recovery.slips.push(slip);
    else if (recovery.slips.filter(isError).length < MOST_ERRORS) recovery.slips.push(slip);
    else recovery.left++;
  }
  const end = from + part.text.slice(from).trimEnd().length;
  const start = from === 0 ? part.text.length - part.text.trimStart().length : from;
  return { kind: 'opaque', span: spanIn(part, Math.min(start, end), end, recovery) };
};

const giveUpLine = (piece: Piece & { readonly head: Line }, recovery: Recovery): undefined => {
  const from = piece.head.from + piece.head.indent;
  const span = spanIn(piece, from, from + piece.head.content.trimEnd().length, recovery);
  const reason = 'this line has no colon followed by a blank, so it is neither a key nor part of a value';
  giveUp(piece, recovery, { slips: [{ kind: 'yaml-broken', span, reason }], broken: true });
  return undefined;
};

const spanIn = (piece: Piece, from: number, to: number, { anchor }: Recovery): Span => ({
  anchor,
  from: piece.at + from,
  to: piece.at + to,
});

const around = (parts: readonly { readonly span: Span }[], part: Piece, anchor: Anchor): Span => ({
  anchor,
  from: parts[0]?.span.from ?? part.at,
  to: parts.at(-1)?.span.to ?? part.at,
});

interface Parts {
  readonly are: 'items' | 'entries';
  readonly pieces: readonly (Piece & { readonly head: Line })[];
}

/** Takes a block list or map apart at the lines that stand at its own indentation. */
const takeApart = (part: Piece): Parts | undefined => {
  const heads: Line[] = [];
  let first: Line | undefined;
  for (let at = 0; at < part.text.length; ) {
    const line = lineAt(part.text, at);
    at = line.next;
    if (isEmpty(line) || /^(?:---|\.\.\.)[ \t]*$/.test(line.content)) continue;
    first ??= line;
    if (line === first && !DASH.test(line.content) && !KEY.test(line.content)) return undefined;
    if (line.indent !== first.indent || /^[\]}\t]/.test(line.content)) continue;
    if (line === first || DASH.test(line.content) === DASH.test(first.content)) heads.push(line);
  }
  if (first === undefined) return undefined;
  const pieces = heads.map((head, i) => {
    const from = head.from;
    const text = part.text.slice(from, heads[i + 1]?.from ?? part.text.length);
    return { text, at: part.at + from, head: { ...head, from: 0, next: head.next - from } };
  });
  return { are: DASH.test(first.content) ? 'items' : 'entries', pieces };
};

import { isAlias, isMap, isScalar, isSeq, type Node as YamlNode } from 'yaml';
import type { Anchor, Span } from '../text/span.ts';
import { DEEPEST_NESTING, parseYaml } from './nesting.ts';
import type { Slip } from './slip.ts';
import { type BrokenAt, NEVER_CLOSED, sayBroken } from './yaml-errors.ts';

/** Text as the pilot wrote it. What a number, a word or nothing means is decided by the reader, not by YAML. */
export interface Scalar {
  readonly kind: 'scalar';
  /** Without quotes, escapes resolved; empty where nothing was written. */
  readonly text: string;
  readonly style: 'plain' | 'quoted' | 'block';
  readonly span: Span;
}

export interface Entry {
  readonly key: Scalar;
  readonly value: TreeNode;
  /** From the key's first character to the value's last. */
  readonly span: Span;
  /** True where a `{ }` holds a word without a colon, as after a decimal comma. */
  readonly lone: boolean;
}

export interface Mapping {
  readonly kind: 'mapping';
  readonly style: 'block' | 'flow';
  readonly entries: readonly Entry[];
  readonly span: Span;
}

export interface Sequence {
  readonly kind: 'sequence';
  readonly style: 'block' | 'flow';
  readonly items: readonly TreeNode[];
  readonly span: Span;
}

/** Something stands here that is not read: an alias, a tagged value, or what a syntax error spoilt. A slip says so. */
export interface Opaque {
  readonly kind: 'opaque';
  readonly span: Span;
}

export type TreeNode = Scalar | Mapping | Sequence | Opaque;

/** A slip before it is known which item or section it stands in. */
export type BareSlip = Slip extends infer S ? (S extends Slip ? Omit<S, 'subject' | 'field'> : never) : never;

export interface Tree {
  readonly root?: TreeNode;
  readonly slips: readonly BareSlip[];
  /** True where the text is not YAML; keys that seem to be missing may then stand behind the error. */
  readonly broken: boolean;
}

/**
 * Warnings that need no word of ours: tags, anchors and aliases have slips of their own, told from the tokens, and a
 * closing bracket as far left as its key, although YAML wants it further in, can only mean one thing.
 */
const HARMLESS: ReadonlySet<string> = new Set([
  'TAG_RESOLVE_FAILED',
  'BAD_COLLECTION_TYPE',
  'BAD_DIRECTIVE',
  'BAD_ALIAS',
  'BAD_INDENT',
]);

/** A part of a block: its text, and where that begins in the block. */
export interface Piece {
  readonly text: string;
  readonly at: number;
}

/**
 * Reads YAML text into a small tree of our own; the parser's nodes are dropped. Never throws. Aliases, anchors, tags,
 * merge keys, directives and further documents become one slip each.
 */
export const readPiece = (piece: Piece, anchor: Anchor): Tree => {
  const spanOf = (from: number, to: number): Span => ({ anchor, from: piece.at + from, to: piece.at + to });
  const parsed = parseYaml(piece.text);
  if (parsed.tooDeepAt !== undefined) {
    const at = parsed.tooDeepAt;
    const reason = `lists and maps stand inside each other more than ${DEEPEST_NESTING} levels deep`;
    return {
      slips: [{ kind: 'document-too-large', span: spanOf(at, Math.min(at + 1, piece.text.length)), reason }],
      broken: true,
    };
  }

  const slips: BareSlip[] = parsed.extras.map(({ what, at, text }) => ({
    kind: 'yaml-not-plain',
    span: spanOf(at, at + text.length),
    what,
    text,
  }));
  const [document, second] = parsed.documents;
  if (document === undefined) return { slips, broken: false };
  if (second !== undefined) {
    const marker = Math.min(second.range[0], piece.text.length);
    const text = piece.text.slice(marker, marker + 3);
    slips.push({ kind: 'yaml-not-plain', span: spanOf(marker, marker + text.length), what: 'second document', text });
  }

  const errors = [...document.errors, ...document.warnings.filter(({ code }) => !HARMLESS.has(code))].filter(
    ({ code }) => code !== 'TAG_RESOLVE_FAILED' && code !== 'BAD_DIRECTIVE',
  );
  const opened: BrokenAt[] = [];
  const unclosed: number[] = [];
  const root = convert(document.contents, { text: piece.text, spanOf, slips, opened, unclosed });
  const [error] = errors.sort((one, other) => one.pos[0] - other.pos[0]);
  const [quote] = unclosed;
  if (error !== undefined) {
    const { from, to, reason } = sayBroken(error, piece.text, opened);
    slips.push({ kind: 'yaml-broken', span: spanOf(from, to), reason });
  } else if (quote !== undefined) {
    slips.push({ kind: 'yaml-broken', span: spanOf(quote, quote + 1), reason: NEVER_CLOSED });
  }
  return { ...(root && { root }), slips, broken: error !== undefined || quote !== undefined };
};

interface Conversion {
  readonly text: string;
  readonly spanOf: (from: number, to: number) => Span;
  readonly slips: BareSlip[];
  /** Quotes and brackets in the order they open, for errors that show only where they should have closed. */
  readonly opened: BrokenAt[];
  /** Where quotes open that the parser takes for closed although they are not. */
  readonly unclosed: number[];
}

const convert = (node: YamlNode | null, conversion: Conversion): TreeNode | undefined => {
  if (node === null) return undefined;
  const [from, to] = node.range ?? [0, 0];
  const span = conversion.spanOf(from, to);
  if (isAlias(node)) {
    conversion.slips.push({ kind: 'yaml-not-plain', span, what: 'alias', text: `*${node.source}` });
    return { kind: 'opaque', span };
  }
  if (node.tag !== undefined) return { kind: 'opaque', span };
  if (isScalar(node)) {
    const quoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
    if (quoted) conversion.opened.push({ from, to, what: 'quote' });
    if (quoted && !isClosed(conversion.text.slice(from, to))) conversion.unclosed.push(from);
    const style = quoted ? 'quoted' : node.type === 'PLAIN' ? 'plain' : 'block';
    const end = style === 'block' ? lastMark(conversion.text, from, to) : to;
    return { kind: 'scalar', text: String(node.value), style, span: conversion.spanOf(from, end) };
  }
  const style = isMap(node) || isSeq(node) ? (node.flow ? 'flow' : 'block') : 'block';
  if (style === 'flow') conversion.opened.push({ from, to, what: 'bracket' });
  if (isSeq(node)) {
    const items = node.items.map((item) => convert(item as YamlNode, conversion) ?? nothingAt(span));
    return { kind: 'sequence', style, items, span: style === 'flow' ? span : upTo(span, items.at(-1)?.span) };
  }
  if (!isMap(node)) return { kind: 'opaque', span };
  const entries: Entry[] = [];
  for (const pair of node.items) {
    const entry = convertPair(pair.key as YamlNode | null, pair.value as YamlNode | null, conversion);
    if (entry !== undefined) entries.push(entry);
  }
  return { kind: 'mapping', style, entries, span: style === 'flow' ? span : upTo(span, entries.at(-1)?.span) };
};

/**
 * Whether a quoted text ends in a quote that closes it. The parser ends a quoted text where a line stands too far left,
 * and then takes the half of a doubled or escaped quote for the closing one.
 */
const isClosed = (source: string): boolean => {
  const inner = source.slice(1, -1);
  return source.startsWith("'") ? !inner.replaceAll("''", '').includes("'") : !/(?:^|[^\\])(?:\\\\)*\\$/.test(inner);
};

const convertPair = (key: YamlNode | null, value: YamlNode | null, conversion: Conversion): Entry | undefined => {
  const converted = convert(key, conversion);
  const read = convert(value, conversion);
  if (converted === undefined || converted.kind !== 'scalar') {
    // An alias or a tag as a key has its slip already.
    if (converted !== undefined && converted.kind !== 'opaque') sayStrangeKey(converted.span, conversion);
    return undefined;
  }
  if (converted.text === '' && converted.style === 'plain') {
    sayStrangeKey(read === undefined ? converted.span : { ...read.span, from: converted.span.from }, conversion);
    return undefined;
  }
  if (converted.text === '<<' && converted.style === 'plain') {
    conversion.slips.push({ kind: 'yaml-not-plain', span: converted.span, what: 'merge key', text: '<<' });
    return undefined;
  }
  const end = { ...converted.span, from: converted.span.to };
  const found = read ?? { kind: 'scalar', text: '', style: 'plain', span: end };
  return { key: converted, value: found, span: upTo(converted.span, found.span), lone: read === undefined };
};

const sayStrangeKey = (span: Span, { text, slips, spanOf }: Conversion): void => {
  const base = spanOf(0, 0).from;
  const written = text.slice(span.from - base, span.to - base);
  slips.push({ kind: 'yaml-not-plain', span, what: 'key that is not text', text: written.split('\n')[0] ?? '' });
};

const nothingAt = (span: Span): Scalar => ({
  kind: 'scalar',
  text: '',
  style: 'plain',
  span: { ...span, to: span.from },
});

const upTo = (span: Span, last: Span | undefined): Span => (last === undefined ? span : { ...span, to: last.to });

/** The offset just past the last character that is not white space. */
const lastMark = (text: string, from: number, to: number): number => {
  let end = to;
  while (end > from && /\s/.test(text.charAt(end - 1))) end--;
  return end;
};

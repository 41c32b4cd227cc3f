import type { Anchor, Span } from '../text/span.ts';
import type { FieldDescription } from './describe.ts';
import type { Mapping } from './tree.ts';

/** What the shape check has to know of the text around a tree. */
export interface Surroundings {
  readonly anchor: Anchor;
  /** The block's text, from its anchor. */
  readonly text: string;
  /** The text of another block of the same document. */
  readonly textOf?: (anchor: Anchor) => string | undefined;
  readonly eol: string;
  /** Where findings about the whole document or item stand. */
  readonly home: Span;
  /** Where a new key of the document itself is put in, at the start of a line; absent = after the last key. */
  readonly insertBefore?: Span;
}

/** Text that makes a missing key, and where to put it in. */
export interface Skeleton {
  readonly text: string;
  readonly at: Span;
}

/**
 * The key with its only possible value, or without one: an example's value would be believed. In a block it is a line
 * of its own, in `{ }` it stands behind the last entry.
 */
export const skeletonOf = (
  key: string,
  mapping: Mapping,
  field: FieldDescription | undefined,
  isRoot: boolean,
  surroundings: Surroundings,
): Skeleton | undefined => {
  const { eol, insertBefore } = surroundings;
  const { anchor } = mapping.entries[0]?.key.span ?? mapping.span;
  const text = anchor === surroundings.anchor ? surroundings.text : surroundings.textOf?.(anchor);
  if (text === undefined) return undefined;
  const value = field?.reads === 'format' ? '1' : '';
  const first = mapping.entries[0];
  const last = mapping.entries.at(-1);
  const at = (offset: number): Span => ({ anchor, from: offset, to: offset });
  if (first === undefined || last === undefined) {
    return mapping.style === 'flow' ? { text: ` ${key}: ${value} `, at: at(mapping.span.from + 1) } : undefined;
  }
  if (mapping.style === 'flow') return { text: `, ${key}: ${value}`, at: at(last.span.to) };
  const lineStart = text.lastIndexOf('\n', first.key.span.from - 1) + 1;
  const indent = ' '.repeat(first.key.span.from - lineStart);
  const line = `${indent}${key}: ${value}`.trimEnd();
  if (isRoot && insertBefore !== undefined) return { text: `${line}${eol}`, at: insertBefore };
  const newline = text.indexOf('\n', last.span.to);
  const end = newline === -1 ? text.length : text.charAt(newline - 1) === '\r' ? newline - 1 : newline;
  return { text: `${eol}${line}`, at: at(end) };
};

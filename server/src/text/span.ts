/**
 * Where something stands in a document.
 *
 * A document is read in blocks (the head, each route item, the tail). A block's anchor says where the block starts;
 * spans count from it. When an edit moves an unchanged block, only its anchor moves, so nothing read or judged inside
 * it has to be done again.
 */
export interface Anchor {
  /** Path of the document, as the host knows it. */
  readonly document: string;
  /** Offset of the block in the document, in UTF-16 code units. Only `plan/` moves it. */
  at: number;
}

/** Half-open range [from, to) in UTF-16 code units, counted from its anchor. */
export interface Span {
  readonly anchor: Anchor;
  readonly from: number;
  readonly to: number;
}

/** A value and the place where the pilot wrote it. */
export interface Written<T> {
  readonly value: T;
  readonly span: Span;
}

/** Offset in the document of the span's first code unit. */
export const startOf = (span: Span): number => span.anchor.at + span.from;

/** Offset in the document just past the span's last code unit. */
export const endOf = (span: Span): number => span.anchor.at + span.to;

/** The empty span at the start of another: where text can be put in before it. */
export const before = (span: Span): Span => ({ anchor: span.anchor, from: span.from, to: span.from });

/** The empty span at the end of another: where text can be put in after it. */
export const after = (span: Span): Span => ({ anchor: span.anchor, from: span.to, to: span.to });

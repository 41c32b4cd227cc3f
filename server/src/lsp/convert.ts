import type { Range } from 'vscode-languageserver';
import type { Lines } from '../text/lines.ts';
import { endOf, type Span, startOf } from '../text/span.ts';

const TOP: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

/** Lines and UTF-16 characters counted from 0, which is how the protocol counts unless told otherwise. */
export const rangeBetween = (lines: Lines, from: number, to: number): Range => {
  const start = lines.at(from);
  const end = lines.at(to);
  return {
    start: { line: start.line, character: start.column },
    end: { line: end.line, character: end.column },
  };
};

/** Range of a span in its own document; the document's top where that document is not at hand. */
export const rangeOf = (span: Span, lines: ReadonlyMap<string, Lines>): Range => {
  const index = lines.get(span.anchor.document);
  return index === undefined ? TOP : rangeBetween(index, startOf(span), endOf(span));
};

/** Whether two ranges share a character or touch. */
export const touches = (one: Range, other: Range): boolean => !isBefore(one, other) && !isBefore(other, one);

const isBefore = (one: Range, other: Range): boolean =>
  one.end.line < other.start.line || (one.end.line === other.start.line && one.end.character < other.start.character);

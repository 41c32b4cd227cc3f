import type { Span, Written } from '../text/span.ts';
import type { Degrees, Metres } from '../units/frames.ts';
import type { Amount, AreaShape, Item, LegTerms, WrittenHeight } from './model.ts';

/** What every item that stands for many legs says of them. The way to its first point has the terms of the item's `leg`. */
interface PatternText {
  /** Height at the ends of each line; between them the craft flies straight, unless `follows` is among the terms. */
  readonly altitude?: WrittenHeight;
  /** Terms of the lines and of the ways between them. */
  readonly terms: LegTerms;
}

/** Parallel lines over an outline. */
export interface SurveyText extends PatternText {
  readonly kind: 'survey';
  readonly outline?: AreaShape;
  readonly outlineSpan?: Span;
  /** True course of the first line at the middle of the outline; every other line is flown the other way. */
  readonly course?: Amount<Degrees>;
  /** Distance from line to line. */
  readonly spacing?: Amount<Metres>;
  /** Where the craft turns after the first line; to the right where it is absent. */
  readonly firstTurn?: Written<'left' | 'right'>;
}

export type PatternTerms = SurveyText;

/** What a point is to the pattern that it was worked out from. */
export interface PatternPart {
  readonly pattern: Item;
  /** Counted from 1 in the order of flight. */
  readonly line: number;
  /** Whether the leg that ends at this point is a line, and not a way between lines or to the first of them. */
  readonly endsLine: boolean;
}

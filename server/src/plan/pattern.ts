import type { Span, Written } from '../text/span.ts';
import type { Degrees, Metres, Share } from '../units/frames.ts';
import type { Camera } from './camera.ts';
import type { Amount, AreaShape, Item, LegTerms, WrittenHeight, WrittenPosition } from './model.ts';

/** What every item that stands for many legs says of them. The way to its first point has the terms of the item's `leg`. */
interface PatternText {
  /** Height at the points of the pattern; between them the craft flies straight, unless `follows` is among the terms. */
  readonly altitude?: WrittenHeight;
  /** Terms of the lines and of the ways between them. */
  readonly terms: LegTerms;
  /** A key that would change the legs and could not be read: what holds without it is not meant then. */
  readonly doubt?: string;
  /** Where another key can be put in, behind the name, and what has to stand before it; absent for a pattern without one. */
  readonly nextKey?: { readonly at: Span; readonly before: string };
}

/** What a pattern for photos says of them, and of the distance between its lines. */
export interface PhotoText {
  /** Distance from line to line. */
  readonly spacing?: Amount<Metres>;
  /** How much of its length a photo shares with the next one on its line, and with one of the next line. */
  readonly overlap?: Overlap;
  /** The camera of this pattern; else the aircraft's. */
  readonly camera?: Camera;
  /** The coarsest ground sampling distance that will do. */
  readonly groundSamplingDistance?: Amount<Metres>;
  /** Where the craft turns after the first line; to the right where it is absent. */
  readonly firstTurn?: Written<'left' | 'right'>;
  /** The lines that are flown, counted from 1 over the whole of the pattern; all of them where absent. */
  readonly firstLine?: Written<number>;
  readonly lastLine?: Written<number>;
}

export interface Overlap {
  readonly span: Span;
  readonly front?: Amount<Share>;
  readonly side?: Amount<Share>;
}

/** Parallel lines over an outline. */
export interface SurveyText extends PatternText, PhotoText {
  readonly kind: 'survey';
  readonly outline?: AreaShape;
  readonly outlineSpan?: Span;
  /** True course of the first line at the middle of the outline; every other line is flown the other way. */
  readonly course?: Amount<Degrees>;
}

/** Lines beside each other along a road, a river, a power line. */
export interface CorridorText extends PatternText, PhotoText {
  readonly kind: 'corridor';
  /** The middle of the corridor; absent unless all of it could be read. */
  readonly along?: readonly WrittenPosition[];
  readonly alongSpan?: Span;
  readonly width?: Amount<Metres>;
  /** How many lines. */
  readonly lines?: Written<number>;
}

/** Turns around a place. */
export interface CircleText extends PatternText {
  readonly kind: 'circle';
  readonly around?: WrittenPosition;
  readonly radius?: Amount<Metres>;
  /** How often around. */
  readonly turns?: Written<number>;
  readonly turning?: Written<'left' | 'right'>;
  /** Where it begins, seen from the centre, from true north; north where it is absent. */
  readonly begins?: Amount<Degrees>;
  /** How many sides the way is flown with; else as many as keep it within 0.1 m of the circle. */
  readonly sides?: Written<number>;
}

export type PatternTerms = SurveyText | CorridorText | CircleText;

/** What a point is to the pattern that it was worked out from. */
export interface PatternPart {
  readonly pattern: Item;
  /** The line or turn it belongs to, counted from 1 in the order of flight. */
  readonly line: number;
  /** Whether the leg that ends at this point is a line or a part of one, and not a way between lines or to the first. */
  readonly endsLine: boolean;
}

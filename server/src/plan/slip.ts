import type { Span } from '../text/span.ts';
import type { Dimension, UnitName } from '../units/convert.ts';
import type { LonLat } from '../units/frames.ts';

/**
 * What the reader could not take as written. A slip holds facts; the rule of the same name says them and mends them.
 * `subject` names the item or section it is in, `field` the key.
 */
export type Slip = SlipPlace &
  (
    | { readonly kind: 'yaml-broken'; readonly reason: string }
    | { readonly kind: 'yaml-not-plain'; readonly what: YamlExtra; readonly text: string }
    | { readonly kind: 'document-too-large'; readonly reason: string }
    | { readonly kind: 'key-repeated'; readonly key: string; readonly first: Span }
    | { readonly kind: 'key-unknown'; readonly key: string; readonly suggestion?: string; readonly others: number }
    | { readonly kind: 'key-missing'; readonly key: string; readonly skeleton?: string; readonly insertAt?: Span }
    | { readonly kind: 'value-of-wrong-kind'; readonly expected: string; readonly found: string }
    | {
        readonly kind: 'word-unknown';
        readonly text: string;
        readonly choices: readonly string[];
        readonly suggestion?: string;
      }
    | NumberWithoutUnit
    | NumberUnreadable
    | { readonly kind: 'number-out-of-range'; readonly text: string; readonly expected: string }
    | UnitUnknown
    | AltitudeWithoutDatum
    | { readonly kind: 'position-unreadable'; readonly text: string; readonly reason: string; readonly mended?: string }
    | PositionOutOfRange
    | { readonly kind: 'time-unreadable'; readonly text: string; readonly reason: string; readonly mended?: string }
    | { readonly kind: 'name-repeated'; readonly name: string; readonly first: Span; readonly mended: string }
    // Where there is a suggestion, the span covers the misspelt key alone.
    | { readonly kind: 'item-unknown'; readonly keys: readonly string[]; readonly suggestion?: string }
    | { readonly kind: 'format-unknown'; readonly text: string }
  );

/** `text` is the whole scalar as written; `couldBe` holds whole scalars that could be meant, likeliest first. */
interface NumberWithoutUnit {
  readonly kind: 'number-without-unit';
  readonly text: string;
  readonly number: string;
  readonly units: readonly string[];
  readonly couldBe: readonly string[];
}

/** `mended` is the likeliest whole scalar; `alternatives` others that it could mean, so that a person has to choose. */
interface NumberUnreadable {
  readonly kind: 'number-unreadable';
  readonly text: string;
  /** "a length such as 60 m" */
  readonly expected: string;
  readonly mended?: string;
  readonly alternatives?: readonly string[];
}

interface UnitUnknown {
  readonly kind: 'unit-unknown';
  readonly text: string;
  readonly number: string;
  readonly unit: string;
  readonly dimension: Dimension;
  readonly units: readonly UnitName[];
  readonly couldBe: readonly string[];
}

/** `found` is the word that stands where the datum should. */
interface AltitudeWithoutDatum {
  readonly kind: 'altitude-without-datum';
  readonly text: string;
  readonly found?: string;
  readonly datums: readonly string[];
  readonly couldBe: readonly string[];
}

/**
 * `mended` replaces the one scalar that the span covers. A position in two scalars (`lat:` and `lon:`) has `edits`
 * instead: what to write over each of them.
 */
interface PositionOutOfRange {
  readonly kind: 'position-out-of-range';
  readonly text: string;
  readonly reason: string;
  readonly swapped?: LonLat;
  readonly mended?: string;
  readonly edits?: readonly { readonly span: Span; readonly text: string }[];
}

interface SlipPlace {
  readonly span: Span;
  readonly subject: string;
  readonly field?: string;
}

export type YamlExtra =
  | 'alias'
  | 'anchor'
  | 'merge key'
  | 'tag'
  | 'directive'
  | 'second document'
  | 'key that is not text';

export type SlipKind = Slip['kind'];
export type SlipOf<K extends SlipKind> = Extract<Slip, { readonly kind: K }>;

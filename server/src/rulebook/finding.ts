import type { Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Instant, LonLat } from '../units/frames.ts';

/**
 * `stop`: law, a declared limit or physics is broken, do not fly this plan. `caution`: think again. `note`: know this.
 */
export type Level = 'stop' | 'caution' | 'note';

const WEIGHT: Readonly<Record<Level, number>> = { stop: 3, caution: 2, note: 1 };
export const atLeast = (level: Level, gate: Level): boolean => WEIGHT[level] >= WEIGHT[gate];
export const worseLevel = (one: Level, other: Level): Level => (WEIGHT[one] >= WEIGHT[other] ? one : other);
export const byLevel = (one: Level, other: Level): number => WEIGHT[other] - WEIGHT[one];

/** A number with its unit, as it goes into reports. */
export interface Measure {
  readonly value: number;
  readonly unit: 'm' | 'm/s' | 's' | 'kg' | 'days' | 'deg' | 'C' | '%';
  readonly frame?: 'above ground' | 'above sea' | 'above take-off' | 'above surface' | 'over ground' | 'through air';
}

/** A limit says who set it: "14 CFR 107.51(b)", "this plan (crew.pilot)", "the house (waywarden.settings.yaml)". */
export interface LimitMeasure extends Measure {
  readonly setBy: string;
}

/** Where in the world, for pictures and maps. */
export interface FindingPlace {
  readonly at: LonLat;
  readonly alongM?: number;
  readonly altitudeAmslM?: number;
  readonly time?: Instant;
}

export interface Interval {
  readonly fromAlongM: number;
  readonly toAlongM: number;
}

export interface Remark {
  readonly at: Span;
  readonly message: string;
}

/** Replaces the characters of a span by a text. An empty span puts text in. */
export interface Edit {
  readonly span: Span;
  readonly text: string;
}

/** `same-flight` mends may be made in bulk; `changes-flight` only one by one, by a person. */
export interface Fix {
  readonly title: string;
  readonly effect: 'same-flight' | 'changes-flight';
  readonly edits: readonly Edit[];
}

/** What a rule says of one breach. */
export interface Complaint {
  /** Where it stands in the text: the exact scalar, or the name of the item. */
  readonly at: Span;
  /** Named subject, also the identity of the finding: "leg gate-7 to ridge". */
  readonly subject: string;
  /** One sentence: subject, measured value, limit, who set the limit. No full stop. */
  readonly message: string;
  /** Lower than the rule's own level, where the rule says so. */
  readonly level?: Level;
  readonly measured?: Measure;
  readonly limit?: LimitMeasure;
  readonly place?: FindingPlace;
  readonly intervals?: readonly Interval[];
  readonly related?: readonly Remark[];
  /**
   * The one field that is to blame for this and for others of its rule. They become one finding on that field, with
   * the worst place, the count and the others as related places.
   */
  readonly cause?: { readonly at: Span; readonly name: string };
  readonly fixes?: readonly Fix[];
  /**
   * The sections of 14 CFR part 107 that a waiver must name to lift it, all of them, such as "107.145". Absent = any one of
   * those that its rule names.
   */
  readonly sections?: readonly string[];
  /**
   * Where what it speaks of lies, for waivers with an area or a height: legs with the stretches meant, and items. Absent =
   * all that the rule looked at.
   */
  readonly parts?: readonly FlownPart[];
  /** An authorisation, waiver or category that lifts it; it then stays in every report as lifted. */
  readonly liftedBy?: Lift;
}

/** A leg, or some stretches of it, or an item. */
export type FlownPart = { readonly leg: Leg; readonly on?: readonly StretchOn[] } | { readonly item: Item };

/** Metres along a leg. */
export interface StretchOn {
  readonly from: number;
  readonly to: number;
}

export interface Lift {
  readonly kind: 'authorisation' | 'waiver' | 'category';
  readonly name: string;
  readonly span: Span;
}

/** How near a rule with a number came to its limit at one place. `room` is positive within the limit. */
export interface MarginHere {
  readonly subject: string;
  readonly at: Span;
  readonly measured: Measure;
  readonly limit: LimitMeasure;
  readonly room: number;
  /** Stated error of the measured value, same unit. */
  readonly error?: number;
  readonly place?: FindingPlace;
}

/** A person's statement that answers the rule's question. */
export interface DeclaredHere {
  readonly because: string;
  readonly at: Span;
}

/**
 * What a rule yields: a breach, a margin, or the statement it rests on. Nothing yielded = met. A pause says nothing: the
 * rule has worked for a while and lets others run.
 */
export type Judgement =
  | { readonly found: Complaint }
  | { readonly margin: MarginHere }
  | { readonly declared: DeclaredHere }
  | { readonly pause: true };

export interface Finding extends Complaint {
  readonly rule: string;
  readonly level: Level;
  /** Rule, named subject and ordinal: stays the same when lines move or values change. */
  readonly fingerprint: string;
  /** How many places share the cause, 1 for a single one. */
  readonly count: number;
  readonly sources: readonly string[];
}

export type GapKind = 'missing' | 'not-yet' | 'fault';

/** A rule that could not be judged for a subject, and why. */
export interface Gap {
  readonly rule: string;
  readonly level: Level;
  readonly kind: GapKind;
  readonly due?: Instant;
  readonly at: Span;
  readonly subject: string;
  readonly reason: string;
  /** The pattern in which it lies, if it does. */
  readonly within?: string;
  /** How many subjects of this rule share the reason. */
  readonly count: number;
}

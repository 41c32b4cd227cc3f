import type { Box } from '../geo/box.ts';
import type { CalendarDate } from '../units/calendar.ts';
import type { Height, Instant, LonLat, Metres, MetresAboveGround, MetresAboveSea, Seconds } from '../units/frames.ts';

/**
 * A piece of airspace with a rule of its own. `kind` decides what entering it needs:
 * - `controlled`: class A-E as `airspaceClass` says, or the surface area of class E designated for an airport
 * - `prohibited`, `restricted`, `danger`: as the authority designates them (ICAO Annex 2 and 11 terms)
 * - `geographical`: an EU UAS geographical zone, (EU) 2019/947 Art. 15
 * - `house`: a local rule written by the operator
 * - `cell`: asks nothing; it says up to which height the authority of other zones grants flights there
 */
export type ZoneKind = 'controlled' | 'prohibited' | 'restricted' | 'danger' | 'geographical' | 'house' | 'cell';

/** A cell of a grid of heights up to which an authority grants flights; a height of zero grants none. */
export interface GrantedCell {
  readonly grid: string;
  readonly upTo: { readonly aboveGround: MetresAboveGround } | { readonly aboveSea: MetresAboveSea };
}

/** A flight level: metres above the surface of 1013.25 hPa in the standard atmosphere, wherever that lies on the day. */
export interface PressureAltitude {
  readonly pressureAltitude: Metres;
}

export type ZoneEdge = Height | PressureAltitude | 'surface' | 'unlimited';

/** What a UAS geographical zone asks, in the groups of EUROCAE ED-318. */
export const ZONE_RESTRICTIONS = ['prohibited', 'authorisation', 'conditional', 'u-space', 'none'] as const;
export type ZoneRestriction = (typeof ZONE_RESTRICTIONS)[number];

export const WEEKDAYS = ['MON', 'TUE', 'WED', 'THU', 'FRI', 'SAT', 'SUN'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** Rise and set of the sun's upper limb, and begin and end of civil twilight. */
export type SunEvent = 'sunrise' | 'sunset' | 'morning twilight' | 'evening twilight';

/** A time of day. `clock` counts from 00:00; an offset of `local` is that of clocks at the zone. */
export type DayMoment =
  | { readonly clock: Seconds; readonly offsetMinutes: number | 'local' }
  /** `shift` counts from the event, later ones positive: "30 minutes before sunrise" is -1800 s. */
  | { readonly event: SunEvent; readonly shift?: Seconds };

/** Every week on these days. An end at or before the start lies on the next day. */
export interface WeeklyTime {
  readonly days: readonly Weekday[];
  /** Dates on which it does not begin. */
  readonly except?: readonly CalendarDate[];
  readonly from: DayMoment;
  readonly until: DayMoment;
}

/** Of the parts that are there, all have to hold; none is always. */
export interface ActivePeriod {
  readonly from?: Instant;
  readonly until?: Instant;
  readonly weekly?: readonly WeeklyTime[];
}

/** Times that are not in the file, or that it gives in a way that cannot be worked out. Finishes "zone X is active ...". */
export interface ActiveUntold {
  readonly untold: string;
}

export type ActiveTime = ActivePeriod | ActiveUntold;

export interface Zone {
  readonly id: string;
  readonly name: string;
  readonly kind: ZoneKind;
  readonly airspaceClass?: 'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G';
  /** Class E down to the surface and designated for an airport: needs an authorisation, other class E does not. */
  readonly surfaceAreaOfAirport?: boolean;
  readonly shape: ZoneShape;
  readonly box: Box;
  readonly floor: ZoneEdge;
  readonly ceiling: ZoneEdge;
  /** Active at any of these. Absent = always. */
  readonly active?: readonly ActiveTime[];
  /** Of a geographical zone whose file tells; others ask for an authorisation. */
  readonly restriction?: ZoneRestriction;
  /** Layers of one zone, as its authority designates it, share this object: flying in several of them is one matter. */
  readonly layerOf?: object;
  /** Of a cell, which has no limits in height itself. */
  readonly grants?: GrantedCell;
  /** What it bars, where that is less than all flight in it. */
  readonly bars?: 'take-off and landing';
  /** Text of the authority or the house, shown word for word. */
  readonly text?: string;
}

export type ZoneShape =
  | { readonly kind: 'circle'; readonly centre: LonLat; readonly radius: Metres }
  /** Each polygon: outer ring first, then holes. Rings are closed without repeating the first point. */
  | { readonly kind: 'polygons'; readonly polygons: readonly (readonly (readonly LonLat[])[])[] };

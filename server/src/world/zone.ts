import type { Box } from '../geo/box.ts';
import type { Height, Instant, LonLat, Metres } from '../units/frames.ts';

/**
 * A piece of airspace with a rule of its own. `kind` decides what entering it needs:
 * - `controlled`: class A-E as `airspaceClass` says, or the surface area of class E designated for an airport
 * - `prohibited`, `restricted`, `danger`: as the authority designates them (ICAO Annex 2 and 11 terms)
 * - `geographical`: an EU UAS geographical zone, (EU) 2019/947 Art. 15
 * - `house`: a local rule written by the operator
 */
export type ZoneKind = 'controlled' | 'prohibited' | 'restricted' | 'danger' | 'geographical' | 'house';

export type ZoneEdge = Height | 'surface' | 'unlimited';

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
  /** Absent = always active. */
  readonly active?: readonly { readonly from: Instant; readonly until: Instant }[];
  /** Text of the authority or the house, shown word for word. */
  readonly text?: string;
}

export type ZoneShape =
  | { readonly kind: 'circle'; readonly centre: LonLat; readonly radius: Metres }
  /** Each polygon: outer ring first, then holes. Rings are closed without repeating the first point. */
  | { readonly kind: 'polygons'; readonly polygons: readonly (readonly (readonly LonLat[])[])[] };

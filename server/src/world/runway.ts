import type { LonLat } from '../units/frames.ts';
import type { Missing } from './world.ts';

/** A runway by the two ends of its centreline. */
export interface Runway {
  /** "09/27 of Lakes Field" */
  readonly name: string;
  readonly airport: string;
  /** Class of the airspace designated at the surface around the airport. */
  readonly surfaceClass: 'B' | 'C' | 'D' | 'E' | 'G';
  readonly ends: readonly [LonLat, LonLat];
  /** Id or name of the zone that its airspace file has for that surface area, for authorisations made out to it. */
  readonly zone?: string;
}

export interface Runways {
  readonly runways: readonly Runway[];
  readonly incomplete?: Missing;
}

import type { Height, LonLat, Metres } from '../units/frames.ts';

/** Something fixed that stands up from the ground: mast, tower, building, tree, wire span (as its footprint circle). */
export interface Obstacle {
  readonly name: string;
  readonly at: LonLat;
  /** Radius of the footprint; 0 for a point. */
  readonly radius: Metres;
  /** Height of the top, above ground (at the obstacle) or above the sea. */
  readonly top: Height;
}

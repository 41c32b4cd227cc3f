import { distance } from '../geo/geodesy.ts';
import type { Ring } from '../geo/ring.ts';
import type { Shape } from '../geo/shape.ts';
import { type Height, type LonLat, type Metres, metres } from '../units/frames.ts';

/** Something fixed that stands up from the ground: mast, tower, building, tree, wire span (as its footprint circle). */
export interface Obstacle {
  readonly name: string;
  /** Where its top is; a top above ground counts from the ground here. */
  readonly at: LonLat;
  /** Radius of the circle around `at` that holds all of it; 0 for a point. */
  readonly radius: Metres;
  /** Its outline on the ground, where that is known better than by the circle. */
  readonly footprint?: Ring;
  /** Height of the top, above ground (at the obstacle) or above the sea. */
  readonly top: Height;
  /** True for what is built (14 CFR 107.51(b): "structure"; (EU) 2019/947: "artificial obstacle"). */
  readonly structure?: boolean;
  /** True where wires hold it up. They are no part of the structure. */
  readonly guyWires?: boolean;
}

/** Radius of the circle around a place that holds all of a footprint. */
export const radiusAround = (at: LonLat, footprint: Ring): Metres =>
  metres(footprint.reduce((most, corner) => Math.max(most, distance(at, corner)), 0));

export const footprintOf = ({ at, radius, footprint }: Obstacle): Shape =>
  footprint === undefined ? { kind: 'circle', centre: at, radius } : { kind: 'polygons', polygons: [[footprint]] };

import type { LonLat } from '../units/frames.ts';
import { destination } from './geodesy.ts';

/** Metres by which the sides of a flown circle lie inside it at most. */
export const CIRCLE_TOLERANCE = 0.1;

/** How many sides a polygon with its corners on a circle needs so that no side lies farther inside than the tolerance. */
export const sidesFor = (radius: number, tolerance = CIRCLE_TOLERANCE): number =>
  tolerance >= radius ? 8 : Math.max(8, Math.ceil(Math.PI / Math.acos(1 - tolerance / radius)));

/** A corner of the way around a circle. */
export interface CircleCorner {
  readonly at: LonLat;
  /** Seen from the centre, in degrees from true north. */
  readonly bearing: number;
}

/** The corners from a bearing on, to the right (clockwise) or the left, the last one where the first one is. */
export const cornersAround = (
  centre: LonLat,
  radius: number,
  way: { readonly sides: number; readonly turns: number; readonly begins: number; readonly turning: 'left' | 'right' },
): readonly CircleCorner[] =>
  Array.from({ length: way.sides * way.turns + 1 }, (_, i) => {
    // Counted within one turn, so that each turn comes by the same corners.
    const step = (360 * (i % way.sides)) / way.sides;
    const bearing = (way.begins + (way.turning === 'right' ? step : 360 - step)) % 360;
    return { at: destination(centre, bearing, radius), bearing };
  });

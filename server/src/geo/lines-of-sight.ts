import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import type { Fan, FanEdge, FanSheet } from './fan.ts';
import type { LegPath } from './geodesy.ts';
import type { Interval } from './interval.ts';

/** Mean radius of the Earth in metres (IUGG). */
const EARTH_RADIUS = 6_371_008.8;

/**
 * Light bends towards the ground, by 0.13 of the curvature of the Earth on average (C. F. Gauss's coefficient of
 * refraction, from memory). A line of sight is straight over an Earth that much larger.
 */
export const RADIUS_FOR_SIGHT = metres(EARTH_RADIUS / (1 - 0.13));

/** Radio waves bend by a quarter: an Earth of four thirds of its radius (Recommendation ITU-R P.453, from memory). */
export const RADIUS_FOR_RADIO = metres((EARTH_RADIUS * 4) / 3);

/** A flat piece of a line of sight of some 400 m lies below the curved one by less than this, in metres. */
const BEND = 0.01;

/** Lowest altitudes of a craft on a stretch of its path: those at its ends, below which it is nowhere on the way between. */
export type LowestOn = (stretch: Interval) => readonly [from: number, to: number];

/** Altitude above the sea on a straight line that leaves from one altitude, at a share of the way to another. */
export const altitudeOnLine = (
  start: number,
  end: number,
  share: number,
  length: number,
  radius: Metres,
): MetresAboveSea => aboveSea(start + share * (end - start) - (share * (1 - share) * length * length) / (2 * radius));

/**
 * The lines of sight from an eye to a craft on its path. Between the eye and the craft a straight line sinks towards the
 * sea level, which bends away below: by L² / 8R in the middle, 2 cm on a kilometre.
 */
export const linesOfSight = (
  eye: { readonly at: LonLat; readonly altitude: MetresAboveSea },
  path: LegPath,
  lowest: LowestOn,
  radius: Metres = RADIUS_FOR_SIGHT,
): Fan => {
  const sheet = (stretch: Interval): FanSheet => {
    const [from, to] = lowest(stretch);
    const ends: Readonly<Record<FanEdge, number>> = { from, to };
    return {
      altitude: (edge, share, length) =>
        aboveSea(altitudeOnLine(eye.altitude, ends[edge], share, length, radius) - BEND),
      slack: 0,
    };
  };
  return { apex: eye.at, path, below: sheet, above: sheet };
};

/** Distance in metres at which the radio horizons of two heights in metres above smooth ground meet. */
export const radioHorizon = (one: Metres, other: Metres): Metres =>
  metres(Math.sqrt(2 * RADIUS_FOR_RADIO) * (Math.sqrt(Math.max(0, one)) + Math.sqrt(Math.max(0, other))));

import { destination, inverse } from '../geo/geodesy.ts';
import type { Ring } from '../geo/ring.ts';
import type { LonLat, Metres } from '../units/frames.ts';

/** An arc as a notice tells it, from one corner of its outline to the next. */
export interface Arc {
  readonly centre: LonLat;
  readonly radius: Metres;
  readonly turn: 'clockwise' | 'anticlockwise';
}

/** The chords of an arc stay within this of it: far below a second of arc (31 m), to which corners are written. */
const SAG = 1;
const LEAST_STEP = 0.25;
const MOST_STEP = 5;

/** A corner in degrees and minutes strays from its arc by up to a minute in each direction, one in seconds by a second. */
const STRAYS = { minutes: 2700, seconds: 60 } as const;

/** Of a longer radius, corners stray by this share of it, too: the earth of who worked them out may have been a sphere. */
const SHARE = 0.01;

/** Degrees that chords of an arc may span. */
const stepOf = (radius: number): number => {
  const step = (2 * Math.acos(Math.max(-1, 1 - SAG / radius)) * 180) / Math.PI;
  return Math.min(MOST_STEP, Math.max(LEAST_STEP, step));
};

/**
 * The corners of an arc between its ends, without these. An end that is not quite at the radius is reached by a radius
 * that changes evenly. Undefined where an end does not lie on the arc at all, so that something else was meant.
 */
export const cornersOfArc = (
  { centre, radius, turn }: Arc,
  from: LonLat,
  to: LonLat,
  written: keyof typeof STRAYS,
): readonly LonLat[] | undefined => {
  const start = inverse(centre, from);
  const end = inverse(centre, to);
  const strays = STRAYS[written] + SHARE * radius;
  if (!(radius > 0) || Math.abs(start.length - radius) > strays || Math.abs(end.length - radius) > strays)
    return undefined;
  const sign = turn === 'clockwise' ? 1 : -1;
  const swept = (((sign * (end.course - start.course)) % 360) + 360) % 360;
  const chords = Math.max(1, Math.ceil(swept / stepOf(radius)));
  return Array.from({ length: chords - 1 }, (_, i) => {
    const share = (i + 1) / chords;
    const reach = start.length + share * (end.length - start.length);
    return destination(centre, start.course + sign * share * swept, reach);
  });
};

/** Sides of a circle that is made a ring. */
const SIDES = 360;

/** A ring around a circle that holds it, or inside a circle that it does not leave; off by under a 20,000th of the radius. */
export const ringOfCircle = (centre: LonLat, radius: Metres, lies: 'around' | 'inside'): Ring => {
  const reach = lies === 'around' ? radius / Math.cos(Math.PI / SIDES) : radius;
  return Array.from({ length: SIDES }, (_, side) => destination(centre, (360 * side) / SIDES, reach));
};

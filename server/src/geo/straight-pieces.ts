import type { LonLat } from '../units/frames.ts';
import type { LegPath } from './geodesy.ts';

/** A place in some plane: a raster's node coordinates, metres around a point, scaled longitude and latitude. */
export interface PlanePoint {
  readonly x: number;
  readonly y: number;
}

/** Where places of the path lie in the plane. */
export interface Plane {
  place(at: LonLat): PlanePoint;
  /** Length in metres on the ground of a small step in the plane. */
  metres(dx: number, dy: number): number;
}

/**
 * A path cut into pieces that are straight in a plane. Piece i runs from (x[i], y[i]) at `along[i]` metres to
 * (x[i+1], y[i+1]) at `along[i+1]`; position on it is linear in the distance flown. `broken[i]` is 1 where the plane
 * has no such piece: the projection does not reach there or jumps.
 */
export interface StraightPieces {
  readonly along: readonly number[];
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly broken: readonly (0 | 1)[];
}

/** A piece this short that is still crooked lies across a break of the projection. */
const SHORTEST = 0.01;
/** More pieces than any projection needs on any leg a drone can fly; a bound on the work. */
const MOST_PIECES = 20_000;

interface Knot extends PlanePoint {
  readonly along: number;
}

const isFiniteKnot = (knot: Knot): boolean => Number.isFinite(knot.x) && Number.isFinite(knot.y);

/**
 * Cuts a path so that at a quarter, half and three quarters of each piece the true place lies within `tolerance` metres
 * of the piece, sideways and along it. Quarters beside the middle, because an S-shaped curve passes its middle.
 */
export const cutStraight = (path: LegPath, plane: Plane, tolerance: number): StraightPieces => {
  const along: number[] = [];
  const x: number[] = [];
  const y: number[] = [];
  const broken: (0 | 1)[] = [];

  const knotAt = (distance: number): Knot => {
    const place = plane.place(path.at(distance));
    return { along: distance, x: place.x, y: place.y };
  };
  const put = (from: Knot, isBroken: 0 | 1): void => {
    along.push(from.along);
    x.push(from.x);
    y.push(from.y);
    broken.push(isBroken);
  };
  const strays = (from: Knot, to: Knot, share: number, actual: Knot): boolean => {
    const dx = actual.x - (from.x + share * (to.x - from.x));
    const dy = actual.y - (from.y + share * (to.y - from.y));
    return !(plane.metres(dx, dy) <= tolerance);
  };
  const cut = (from: Knot, middle: Knot, to: Knot): void => {
    const first = knotAt((from.along + middle.along) / 2);
    const third = knotAt((middle.along + to.along) / 2);
    const knots = [from, first, middle, third, to];
    const isStraight =
      isFiniteKnot(from) &&
      isFiniteKnot(to) &&
      !strays(from, to, 0.25, first) &&
      !strays(from, to, 0.5, middle) &&
      !strays(from, to, 0.75, third);
    const isHopeless = !knots.some(isFiniteKnot) || to.along - from.along < SHORTEST || along.length > MOST_PIECES;
    if (isStraight || isHopeless) {
      put(from, isStraight ? 0 : 1);
      return;
    }
    cut(from, first, middle);
    cut(middle, third, to);
  };

  const start = knotAt(0);
  const end = knotAt(path.length);
  if (path.length > 0) cut(start, knotAt(path.length / 2), end);
  else put(start, isFiniteKnot(start) ? 0 : 1);
  along.push(path.length);
  x.push(end.x);
  y.push(end.y);
  return { along, x, y, broken };
};

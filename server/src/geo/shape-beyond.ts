import type { LonLat } from '../units/frames.ts';
import { lonLat } from '../units/frames.ts';
import { type Box, boxAround, boxesMeet, growBox, longitudeStep, wrapLongitude } from './box.ts';
import { destination, type LegPath, legPath } from './geodesy.ts';
import { commonIntervals, freeOf } from './interval.ts';
import { distanceToShape, intervalsInside, type Shape } from './shape.ts';

/** Sides of the polygon whose corners stand for the rim of a circle. */
const SIDES = 256;

/** Edges of a polygon are straight in longitude and latitude; geodesics this short, in metres, are so to the centimetre. */
const PIECE = 500;

/** What sticks out by less than this is the arithmetic's, in metres. */
const COUNTS = 0.02;

const rimsOf = (shape: Shape): readonly (readonly LonLat[])[] => {
  if (shape.kind === 'polygons') return shape.polygons.flat();
  const { centre, radius } = shape;
  return [Array.from({ length: SIDES }, (_, side) => destination(centre, (360 * side) / SIDES, radius))];
};

/** An edge as short geodesics. */
const pieces = (from: LonLat, to: LonLat): readonly LegPath[] => {
  const count = Math.max(1, Math.ceil(legPath(from, to).length / PIECE));
  const step = longitudeStep(from.lon, to.lon);
  const place = (i: number): LonLat => {
    if (i === 0) return from;
    if (i === count) return to;
    return lonLat(wrapLongitude(from.lon + (step * i) / count), from.lat + ((to.lat - from.lat) * i) / count);
  };
  return Array.from({ length: count }, (_, i) => legPath(place(i), place(i + 1)));
};

const edgesNear = (shape: Shape, near: Box): readonly LegPath[] =>
  rimsOf(shape).flatMap((rim) =>
    rim.flatMap((corner, i) => {
      const next = rim[i + 1] ?? rim[0] ?? corner;
      const box = boxAround([corner, next]);
      return box !== undefined && boxesMeet(box, near) ? pieces(corner, next) : [];
    }),
  );

/**
 * A place that lies in both `part` and `whole` and outside of `allowed`; undefined where there is none. If there are such
 * places, some lie on the rim of `part` or of `whole`: `allowed` has no holes, so its own rim alone cannot enclose any.
 */
export const placeBeyond = (part: Shape, whole: Shape, allowed: Shape): LonLat | undefined => {
  const around = boxAround(rimsOf(part).flat());
  if (around === undefined) return undefined;
  const beyond = (edges: readonly LegPath[], other: Shape): LonLat | undefined => {
    for (const edge of edges) {
      const inBoth = intervalsInside(other, edge);
      if (inBoth.length === 0) continue;
      const outside = freeOf(intervalsInside(allowed, edge), { from: 0, to: edge.length });
      for (const { from, to } of commonIntervals(outside, inBoth)) {
        const farthest = [from, (from + to) / 2, to]
          .map((along) => edge.at(along))
          .find((at) => distanceToShape(allowed, at) > COUNTS);
        if (farthest !== undefined) return farthest;
      }
    }
    return undefined;
  };
  return beyond(edgesNear(part, growBox(around, 1)), whole) ?? beyond(edgesNear(whole, growBox(around, 1)), part);
};

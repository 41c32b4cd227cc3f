import { type LonLat, lonLat } from '../units/frames.ts';
import { longitudeStep, wrapLongitude } from './box.ts';
import { destination, inverse, legPath } from './geodesy.ts';
import type { Ring } from './ring.ts';
import type { Shape } from './shape.ts';

/** Corners along the sides of a strip are no farther apart than this, in metres, so that its sides stay beside the geodesic. */
const STEP = 250;

/** Corners `beside` metres to the right (90°) or left (-90°) of the geodesic that runs from `start` for `length` metres. */
const side = (start: LonLat, end: LonLat, beside: number, turn: 90 | -90): readonly LonLat[] => {
  const path = legPath(start, end);
  const steps = Math.max(1, Math.ceil(path.length / STEP));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const along = (path.length * i) / steps;
    const at = path.at(along);
    const onwards = i < steps ? inverse(at, end).course : inverse(end, start).course + 180;
    return destination(at, onwards + turn, beside);
  });
};

/**
 * The strip of ground within `beside` metres of the geodesic between two places and `beyond` metres past each of them:
 * a rectangle on the centreline. Undefined for two places that are one.
 */
export const stripAlong = (from: LonLat, to: LonLat, beside: number, beyond: number): Ring | undefined => {
  const { length, course } = inverse(from, to);
  if (!(length > 0)) return undefined;
  const start = destination(from, course + 180, beyond);
  const end = destination(to, inverse(to, from).course + 180, beyond);
  return [...side(start, end, beside, 90), ...[...side(start, end, beside, -90)].reverse()];
};

/** A ring with corners put into its long edges. Edges are straight in longitude and latitude, as RFC 7946 defines them. */
const withShortEdges = (ring: Ring): Ring =>
  ring.flatMap((corner, i) => {
    const next = ring[i + 1] ?? ring[0] ?? corner;
    const east = longitudeStep(corner.lon, next.lon);
    const north = next.lat - corner.lat;
    // A degree is never longer than 111.7 km.
    const steps = Math.min(2000, Math.max(1, Math.ceil((Math.hypot(east, north) * 111_700) / STEP)));
    return Array.from({ length: steps }, (_, step) =>
      step === 0
        ? corner
        : lonLat(wrapLongitude(corner.lon + (east * step) / steps), corner.lat + (north * step) / steps),
    );
  });

/**
 * The same shape with edges of at most 250 m, which lie within 2 mm of the same line in any plane up to 60° of latitude:
 * distances from it may then be measured in the plane around a place.
 */
export const shortEdged = (shape: Shape): Shape =>
  shape.kind === 'circle'
    ? shape
    : { kind: 'polygons', polygons: shape.polygons.map((rings) => rings.map(withShortEdges)) };

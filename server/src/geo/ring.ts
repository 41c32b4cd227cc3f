import { type LonLat, lonLat, type Metres, metres } from '../units/frames.ts';
import { longitudeStep, wrapLongitude } from './box.ts';
import { inverse } from './geodesy.ts';
import type { Plane, PlanePoint } from './straight-pieces.ts';

/**
 * Rings on the longitude-latitude plane. Edges are straight there, as RFC 7946 section 3.1.1 defines them, and that is
 * what an authority publishes. The plane is scaled to metres at one place; scaling keeps straight edges straight.
 */
export type Ring = readonly LonLat[];

/** Within this of an edge counts as touching it, in metres. */
export const TOUCH = 0.001;

const METRES_PER_DEGREE = 111_320;

/** Longitude and latitude around a place, unwrapped across the 180° meridian, in metres that are true at the place. */
export interface LonLatPlane extends Plane {
  readonly origin: LonLat;
  /** Length in the plane of 360° of longitude: the same place again. */
  readonly turn: number;
  readonly perLongitude: number;
  /** The place at a point of the plane. */
  back(x: number, y: number): LonLat;
}

export const lonLatPlane = (around: LonLat): LonLatPlane => {
  // The frame belongs to the leg: snapped to 0.01°, so that an edit elsewhere changes no digit here.
  const origin = lonLat(Math.round(around.lon * 100) / 100, Math.round(around.lat * 100) / 100);
  const perLongitude = METRES_PER_DEGREE * Math.max(Math.cos((origin.lat * Math.PI) / 180), 1e-6);
  return {
    origin,
    perLongitude,
    turn: 360 * perLongitude,
    place: (at) => ({
      x: longitudeStep(origin.lon, at.lon) * perLongitude,
      y: (at.lat - origin.lat) * METRES_PER_DEGREE,
    }),
    metres: Math.hypot,
    back: (x, y) =>
      lonLat(
        wrapLongitude(origin.lon + x / perLongitude),
        Math.min(90, Math.max(-90, origin.lat + y / METRES_PER_DEGREE)),
      ),
  };
};

/**
 * The step of an edge in longitude. An edge of more than half a turn is taken the short way, because such rings in use
 * cross the 180° meridian with their signs as they fall; an edge of a whole turn (the world from -180 to 180) stays.
 */
const edgeStep = (from: number, to: number): number => {
  const step = to - from;
  if (Math.abs(step) <= 180 || Math.abs(step) >= 360) return step;
  return longitudeStep(from, to);
};

/** A ring in the plane: corner coordinates, the first one not repeated, and the extent. */
export interface PlaneRing {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

const measured = (x: Float64Array, y: Float64Array): PlaneRing => {
  let west = Number.POSITIVE_INFINITY;
  let south = Number.POSITIVE_INFINITY;
  let east = Number.NEGATIVE_INFINITY;
  let north = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    const cornerX = x[i] ?? 0;
    const cornerY = y[i] ?? 0;
    if (cornerX < west) west = cornerX;
    if (cornerX > east) east = cornerX;
    if (cornerY < south) south = cornerY;
    if (cornerY > north) north = cornerY;
  }
  return { x, y, west, east, south, north };
};

export const ringOfPoints = (points: readonly PlanePoint[]): PlaneRing =>
  measured(
    Float64Array.from(points, (point) => point.x),
    Float64Array.from(points, (point) => point.y),
  );

/** A ring as it lies in the plane, each corner following the one before. */
export const layRing = (ring: Ring, plane: LonLatPlane): PlaneRing => {
  const x = new Float64Array(ring.length);
  const y = new Float64Array(ring.length);
  let previous: LonLat | undefined;
  let east = 0;
  for (let i = 0; i < ring.length; i++) {
    const corner = ring[i];
    if (corner === undefined) continue;
    if (previous === undefined) east = plane.place(corner).x;
    else east += edgeStep(previous.lon, corner.lon) * plane.perLongitude;
    x[i] = east;
    y[i] = (corner.lat - plane.origin.lat) * METRES_PER_DEGREE;
    previous = corner;
  }
  return measured(x, y);
};

/** How far a ring has to be shifted, in whole turns of longitude, to lie where an extent is. Usually one answer or none. */
export const turnsOnto = (ring: PlaneRing, west: number, east: number, turn: number): readonly number[] => {
  const first = Math.ceil((west - TOUCH - ring.east) / turn);
  const last = Math.floor((east + TOUCH - ring.west) / turn);
  const turns: number[] = [];
  for (let k = first; k <= last; k++) turns.push(k * turn);
  return turns;
};

/** Calls back with each edge from (x0, y0) to (x1, y1). A ring of one corner has one edge without length. */
export const eachEdge = (ring: PlaneRing, visit: (x0: number, y0: number, x1: number, y1: number) => void): void => {
  const corners = ring.x.length;
  for (let i = 0; i < corners; i++) {
    const j = i + 1 < corners ? i + 1 : 0;
    visit(ring.x[i] ?? 0, ring.y[i] ?? 0, ring.x[j] ?? 0, ring.y[j] ?? 0);
  }
};

/**
 * How many times the ring winds round a point, which must not lie on it. Counting windings instead of crossings keeps
 * the overlap of a ring with itself inside: an authority that draws one does not mean a hole.
 */
export const windings = (ring: PlaneRing, x: number, y: number): number => {
  if (x < ring.west || x > ring.east || y < ring.south || y > ring.north) return 0;
  let count = 0;
  eachEdge(ring, (x0, y0, x1, y1) => {
    const rises = y0 <= y && y1 > y;
    const falls = y0 > y && y1 <= y;
    if (!rises && !falls) return;
    const side = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0);
    if (rises && side > 0) count += 1;
    if (falls && side < 0) count -= 1;
  });
  return count;
};

/** Square of the distance in the plane from a point to the edge, with the share of the edge at which it is reached. */
export const nearestOnEdge = (
  x: number,
  y: number,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): { readonly square: number; readonly share: number } => {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const square = dx * dx + dy * dy;
  const share = square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
  const offX = x0 + share * dx - x;
  const offY = y0 + share * dy - y;
  return { square: offX * offX + offY * offY, share };
};

/** The nearest place on a ring's edges, in the plane, and how far away it is on the ellipsoid. */
export const distanceToRing = (ring: PlaneRing, plane: LonLatPlane, at: LonLat): Metres => {
  const { x, y } = plane.place(at);
  let best = Number.POSITIVE_INFINITY;
  let foot: PlanePoint = { x, y };
  for (const shift of [-plane.turn, 0, plane.turn]) {
    eachEdge(ring, (x0, y0, x1, y1) => {
      const { square, share } = nearestOnEdge(x - shift, y, x0, y0, x1, y1);
      if (square >= best) return;
      best = square;
      foot = { x: x0 + share * (x1 - x0), y: y0 + share * (y1 - y0) };
    });
  }
  if (best === Number.POSITIVE_INFINITY) return metres(Number.POSITIVE_INFINITY);
  return inverse(at, plane.back(foot.x, foot.y)).length;
};

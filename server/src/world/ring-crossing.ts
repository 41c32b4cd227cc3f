import { type Box, wrapLongitude } from '../geo/box.ts';
import { degrees } from '../units/frames.ts';
import type { Ring } from './geojson-features.ts';

interface Edge {
  readonly index: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly least: number;
  readonly most: number;
}

const cross = (edge: Edge, x: number, y: number): number =>
  (edge.x1 - edge.x0) * (y - edge.y0) - (edge.y1 - edge.y0) * (x - edge.x0);

const side = (edge: Edge, x: number, y: number): number => Math.sign(cross(edge, x, y));

const crosses = (one: Edge, other: Edge): boolean =>
  side(one, other.x0, other.y0) * side(one, other.x1, other.y1) < 0 &&
  side(other, one.x0, one.y0) * side(other, one.x1, one.y1) < 0;

const edgesOf = (ring: Ring): Edge[] => {
  const count = ring.corners.length;
  const edges = ring.corners.map((corner, i): Edge => {
    const next = (i + 1) % count;
    const x0 = ring.unwound[i] ?? 0;
    const x1 = ring.unwound[next] ?? 0;
    return {
      index: i,
      x0,
      y0: corner.lat,
      x1,
      y1: ring.corners[next]?.lat ?? 0,
      least: Math.min(x0, x1),
      most: Math.max(x0, x1),
    };
  });
  return edges.sort((one, other) => one.least - other.least || one.index - other.index);
};

/** The box of a part of the ring's corners and one point more, in unwound longitudes. */
const boxOfPart = (ring: Ring, from: number, to: number, x: number, y: number): Box => {
  let [west, east, south, north] = [x, x, y, y];
  for (let i = from; i < to; i++) {
    const corner = i % ring.corners.length;
    const lon = ring.unwound[corner] ?? x;
    const lat = ring.corners[corner]?.lat ?? y;
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  return { west: degrees(west), east: degrees(east), south: degrees(south), north: degrees(north) };
};

const extent = ({ west, south, east, north }: Box): number => east - west + (north - south);

/** The smaller of the two loops into which a crossing parts a ring. */
const loopOf = (ring: Ring, one: Edge, other: Edge): Box => {
  const [first, last] = one.index < other.index ? [one, other] : [other, one];
  const start = cross(last, first.x0, first.y0);
  const part = start / (start - cross(last, first.x1, first.y1));
  const x = first.x0 + part * (first.x1 - first.x0);
  const y = first.y0 + part * (first.y1 - first.y0);
  const inner = boxOfPart(ring, first.index + 1, last.index + 1, x, y);
  const outer = boxOfPart(ring, last.index + 1, first.index + 1 + ring.corners.length, x, y);
  const loop = extent(inner) <= extent(outer) ? inner : outer;
  return { ...loop, west: degrees(wrapLongitude(loop.west)), east: degrees(wrapLongitude(loop.east)) };
};

/** A ring with more crossings than these is none that anybody drew. */
const MOST_CROSSINGS = 50;

/**
 * The loops that a ring throws where two of its edges cross inside both: the ground on which inside and outside are
 * doubtful. None for a ring that only touches itself; `everywhere` for too many.
 */
export const loopsOf = (ring: Ring): readonly Box[] | 'everywhere' => {
  const edges = edgesOf(ring);
  const loops: Box[] = [];
  for (let i = 0; i < edges.length; i++) {
    const edge = edges[i];
    if (edge === undefined) continue;
    for (let j = i + 1; j < edges.length; j++) {
      const later = edges[j];
      if (later === undefined || later.least > edge.most) break;
      if (!crosses(edge, later)) continue;
      loops.push(loopOf(ring, edge, later));
      if (loops.length > MOST_CROSSINGS) return 'everywhere';
    }
  }
  return loops;
};

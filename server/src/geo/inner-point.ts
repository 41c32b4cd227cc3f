import type { LonLat } from '../units/frames.ts';
import { eachEdge, layRing, lonLatPlane, type PlaneRing, type Ring, windings } from './ring.ts';

const centroidOf = (ring: PlaneRing): readonly [number, number] => {
  // Summed from the first corner, so that no large numbers cancel.
  const x = ring.x[0] ?? 0;
  const y = ring.y[0] ?? 0;
  let twiceArea = 0;
  let sumX = 0;
  let sumY = 0;
  eachEdge(ring, (x0, y0, x1, y1) => {
    const cross = (x0 - x) * (y1 - y) - (x1 - x) * (y0 - y);
    twiceArea += cross;
    sumX += cross * (x0 + x1 - 2 * x);
    sumY += cross * (y0 + y1 - 2 * y);
  });
  if (Math.abs(twiceArea) < 1e-9) return [(ring.west + ring.east) / 2, (ring.south + ring.north) / 2];
  return [x + sumX / (3 * twiceArea), y + sumY / (3 * twiceArea)];
};

/** The middle of the widest stretch inside the ring at a height y of the plane. */
const middleOfWidest = (ring: PlaneRing, y: number): number | undefined => {
  const crossings: number[] = [];
  eachEdge(ring, (x0, y0, x1, y1) => {
    if (y0 <= y !== y1 <= y) crossings.push(x0 + ((y - y0) / (y1 - y0)) * (x1 - x0));
  });
  crossings.sort((one, other) => one - other);
  let widest = 0;
  let middle: number | undefined;
  for (let i = 0; i + 1 < crossings.length; i++) {
    const from = crossings[i] ?? 0;
    const to = crossings[i + 1] ?? 0;
    if (to - from <= widest || windings(ring, (from + to) / 2, y) === 0) continue;
    widest = to - from;
    middle = (from + to) / 2;
  }
  return middle;
};

/**
 * A place inside a ring that stands for it: the centre of its area, or where that lies outside (a crescent, a frame)
 * the middle of the widest stretch at the same latitude or at one nearby. A ring without area gives its middle.
 */
export const innerPoint = (ring: Ring): LonLat | undefined => {
  const [first] = ring;
  if (first === undefined) return undefined;
  const plane = lonLatPlane(first);
  const laid = layRing(ring, plane);
  const [x, y] = centroidOf(laid);
  let place: readonly [number, number] = [x, y];
  if (windings(laid, x, y) === 0) {
    for (const height of [y, (laid.south + y) / 2, (laid.north + y) / 2]) {
      const middle = middleOfWidest(laid, height);
      if (middle === undefined) continue;
      place = [middle, height];
      break;
    }
  }
  return plane.back(place[0], place[1]);
};

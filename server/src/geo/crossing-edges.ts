import type { LonLat } from '../units/frames.ts';
import { flatFrame, middleOf } from './flat-frame.ts';

interface Edge {
  readonly index: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const side = (edge: Edge, x: number, y: number): number =>
  Math.sign((edge.x1 - edge.x0) * (y - edge.y0) - (edge.y1 - edge.y0) * (x - edge.x0));

const crosses = (one: Edge, other: Edge): boolean =>
  side(one, other.x0, other.y0) * side(one, other.x1, other.y1) < 0 &&
  side(other, one.x0, one.y0) * side(other, one.x1, one.y1) < 0;

/**
 * The numbers, counted from 0, of the corners at which two edges of a ring begin that cross inside both; undefined where
 * none do. Edges that only touch do not cross.
 */
export const crossingEdges = (ring: readonly LonLat[]): readonly [number, number] | undefined => {
  const centre = middleOf(ring);
  if (centre === undefined) return undefined;
  const frame = flatFrame(centre);
  const places = ring.map((corner) => frame.place(corner));
  const edges = places
    .map((one, index): Edge => {
      const other = places[(index + 1) % places.length] ?? one;
      return one.x <= other.x
        ? { index, x0: one.x, y0: one.y, x1: other.x, y1: other.y }
        : { index, x0: other.x, y0: other.y, x1: one.x, y1: one.y };
    })
    .sort((one, other) => one.x0 - other.x0 || one.index - other.index);
  for (let i = 0; i < edges.length; i++) {
    const edge = edges[i];
    for (let j = i + 1; edge !== undefined && j < edges.length; j++) {
      const later = edges[j];
      if (later === undefined || later.x0 > edge.x1) break;
      if (crosses(edge, later)) return edge.index < later.index ? [edge.index, later.index] : [later.index, edge.index];
    }
  }
  return undefined;
};

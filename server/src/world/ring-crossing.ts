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

const side = (edge: Edge, x: number, y: number): number =>
  Math.sign((edge.x1 - edge.x0) * (y - edge.y0) - (edge.y1 - edge.y0) * (x - edge.x0));

const cross = (one: Edge, other: Edge): boolean =>
  side(one, other.x0, other.y0) * side(one, other.x1, other.y1) < 0 &&
  side(other, one.x0, one.y0) * side(other, one.x1, one.y1) < 0;

/** Whether two edges of a ring cross each other inside both. A ring that only touches itself does not cross. */
export const crossesItself = (ring: Ring): boolean => {
  const count = ring.corners.length;
  const edges: Edge[] = ring.corners.map((corner, i) => {
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
  edges.sort((one, other) => one.least - other.least || one.index - other.index);
  for (let i = 0; i < edges.length; i++) {
    const edge = edges[i];
    if (edge === undefined) continue;
    for (let j = i + 1; j < edges.length; j++) {
      const later = edges[j];
      if (later === undefined || later.least > edge.most) break;
      if (cross(edge, later)) return true;
    }
  }
  return false;
};

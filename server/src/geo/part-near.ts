import type { LonLat } from '../units/frames.ts';
import { type Box, boxAround, boxesMeet } from './box.ts';
import type { Ring } from './ring.ts';
import type { Shape } from './shape.ts';

/** Outlines of fewer corners are taken as they are. */
const FEW = 500;

const meets = (one: LonLat, other: LonLat, box: Box): boolean => {
  const around = boxAround([one, other]);
  return around !== undefined && boxesMeet(around, box);
};

/** A chain of corners as a ring: forth and back, so that it has no edge that the outline has not. */
const forthAndBack = (chain: readonly LonLat[]): Ring => [...chain, ...chain.slice(1, -1).reverse()];

/** The chains of edges of a ring that meet a box. */
const chainsOf = (ring: Ring, box: Box): readonly Ring[] => {
  const chains: LonLat[][] = [];
  let open: LonLat[] | undefined;
  ring.forEach((corner, i) => {
    const next = ring[i + 1] ?? ring[0] ?? corner;
    if (!meets(corner, next, box)) open = undefined;
    else if (open === undefined) {
      open = [corner, next];
      chains.push(open);
    } else open.push(next);
  });
  return chains.map(forthAndBack);
};

/**
 * The edges of a large outline that meet a box, as a shape without inside, for distances from places that lie outside the
 * outline: a coast of a million corners costs only what is near. Small outlines stay whole.
 */
export const partNear = (shape: Shape, box: Box): Shape => {
  if (shape.kind === 'circle') return shape;
  const corners = shape.polygons.reduce((sum, rings) => sum + rings.reduce((all, ring) => all + ring.length, 0), 0);
  if (corners < FEW) return shape;
  const rings = shape.polygons.flatMap((polygon) => polygon.flatMap((ring) => chainsOf(ring, box)));
  return { kind: 'polygons', polygons: rings.map((ring) => [ring]) };
};

import { destination, distance, legPath } from './geodesy.ts';
import { totalLength } from './interval.ts';
import { TOUCH } from './ring.ts';
import { insideShape, intervalsInside, type Shape } from './shape.ts';
import { shortEdged } from './strip.ts';

/** Sides of the polygon around a circle. It holds the circle and is 0.03 % wider. */
const SIDES = 128;

const holding = (shape: Shape): Shape => {
  if (shape.kind === 'polygons') return shortEdged(shape);
  const reach = shape.radius / Math.cos(Math.PI / SIDES);
  const ring = Array.from({ length: SIDES }, (_, side) => destination(shape.centre, (360 * side) / SIDES, reach));
  return { kind: 'polygons', polygons: [[ring]] };
};

/** Whether the whole of one shape lies inside another; a circle inside a polygon by the polygon around it. */
export const liesWithin = (inner: Shape, outer: Shape): boolean => {
  if (inner.kind === 'circle' && outer.kind === 'circle') {
    return distance(inner.centre, outer.centre) + inner.radius <= outer.radius + TOUCH;
  }
  const held = holding(inner);
  if (held.kind === 'circle') return false;
  const edgesInside = held.polygons.every(([ring = []]) =>
    ring.every((corner, i) => {
      const edge = legPath(corner, ring[i + 1] ?? ring[0] ?? corner);
      const inside = intervalsInside(outer, edge);
      return inside.length > 0 && totalLength(inside) >= edge.length - 2 * TOUCH;
    }),
  );
  if (!edgesInside) return false;
  // An edge may run all around a hole of the outer shape.
  const holes = outer.kind === 'circle' ? [] : outer.polygons.flatMap(([, ...rings]) => rings);
  return holes.every(([corner]) => corner === undefined || !insideShape(held, corner));
};

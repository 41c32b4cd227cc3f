import { destination } from '../geo/geodesy.ts';
import type { Shape } from '../geo/shape.ts';
import type { AreaShape, Item } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';
import { defineFact, given, NotAssessed } from './fact.ts';

/** An outline as geometry. */
export const shapeOfOutline = (inside: AreaShape): Shape =>
  inside.kind === 'circle'
    ? { kind: 'circle', centre: inside.around.value, radius: inside.radius.value }
    : { kind: 'polygons', polygons: [[inside.ring.map((corner) => corner.value)]] };

/** Sides of the polygon that stands for a circle over the ground. It holds the circle and is 0.03 % wider. */
const SIDES = 128;

const cornersOn = (centre: LonLat, radius: number): readonly LonLat[] =>
  Array.from({ length: SIDES }, (_, side) => destination(centre, (360 * side) / SIDES, radius));

const ringAround = (centre: LonLat, radius: number): readonly LonLat[] =>
  cornersOn(centre, radius / Math.cos(Math.PI / SIDES));

/** The corners of an outline; of a circle some on it, so that the ring is as wide as the circle and nowhere wider. */
export const ringOfOutline = (outline: AreaShape): readonly LonLat[] => {
  const shape = shapeOfOutline(outline);
  return shape.kind === 'circle' ? cornersOn(shape.centre, shape.radius) : (shape.polygons[0]?.[0] ?? []);
};

/** The ground plan of an area that is flown by hand. `ring` holds all of it, for the ground below. */
export interface AreaPlan {
  readonly shape: Shape;
  readonly ring: readonly LonLat[];
}

export const areaShape = defineFact({
  name: 'area-shape',
  derive: (item: Item): AreaPlan => {
    const inside = given(item.area?.inside, `the outline of ${item.id.value}`);
    const shape = shapeOfOutline(inside);
    if (shape.kind === 'circle') return { shape, ring: ringAround(shape.centre, shape.radius) };
    const ring = shape.polygons[0]?.[0] ?? [];
    if (ring.length < 3) throw new NotAssessed(`the outline of ${item.id.value} has fewer than three corners`);
    return { shape, ring };
  },
});

import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { distance, type LegPath, legPath } from './geodesy.ts';
import { betweenShapes, nearestToShape } from './near-shape.ts';
import type { Ring } from './ring.ts';
import { insideShape, intervalsInside, type Shape } from './shape.ts';
import { shortEdged } from './strip.ts';

type Polygons = Extract<Shape, { readonly kind: 'polygons' }>;
type Circle = Extract<Shape, { readonly kind: 'circle' }>;

/**
 * The edges of an area as a shape without inside, for distances from what lies in the area. Only those parts of them that
 * lie in `within`, where it is given.
 */
export const edgesOf = (area: Polygons, within?: Shape): Polygons => {
  const short = shortEdged(area);
  const rings = short.kind === 'polygons' ? short.polygons.flat() : [];
  const edges = rings.flatMap((ring): readonly Ring[] =>
    ring.flatMap((corner, i): readonly Ring[] => {
      const next = ring[i + 1] ?? ring[0] ?? corner;
      if (within === undefined) return [[corner, next]];
      const edge = legPath(corner, next);
      return intervalsInside(within, edge).map(({ from, to }) => [edge.at(from), edge.at(to)]);
    }),
  );
  return { kind: 'polygons', polygons: edges.map((edge) => [edge]) };
};

/** How far a path is from getting out of an area, over the ground; 0 where it leaves the area or touches its edge. */
export const roomOnPath = (path: LegPath, area: Shape): Metres => {
  if (!insideShape(area, path.from)) return metres(0);
  if (area.kind === 'polygons') return nearestToShape(path, edgesOf(area)).distance;
  // A path as short as a leg is farthest from any place at one of its ends.
  const farthest = Math.max(distance(area.centre, path.from), distance(area.centre, path.to));
  return metres(Math.max(0, area.radius - farthest));
};

const cornersOf = ({ polygons }: Polygons): readonly LonLat[] => polygons.flatMap(([outer]) => outer ?? []);

const roomInCircle = (own: Shape, { centre, radius }: Circle): Metres => {
  const farthest =
    own.kind === 'circle'
      ? distance(centre, own.centre) + own.radius
      : cornersOf(own).reduce((most, corner) => Math.max(most, distance(centre, corner)), 0);
  return metres(Math.max(0, radius - farthest));
};

/** As `roomOnPath` for all of a shape, such as an area that is flown by hand. */
export const roomOfShape = (own: Shape, area: Shape): Metres => {
  if (area.kind === 'circle') return roomInCircle(own, area);
  const places = own.kind === 'circle' ? [own.centre] : cornersOf(own);
  if (!places.every((place) => insideShape(area, place))) return metres(0);
  return betweenShapes(own, edgesOf(area));
};

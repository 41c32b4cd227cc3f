import { liesWithin } from '../geo/lies-within.ts';
import { shapesMeet } from '../geo/shape.ts';
import { ringOfCircle } from './notice-arc.ts';
import { shapesIn } from './notice-shape.ts';
import type { ZoneShape } from './zone.ts';

/** The lateral limits of a notice as its text tells them. */
export interface NoticeArea {
  readonly shapes: readonly ZoneShape[];
  /** Why a part of the shapes may not belong to it; absent where they are exact. */
  readonly open?: string;
}

const EXCLUDING = /\b(?:EXCLUDING|EXCLUDED|EXCEPT|EXCEPTING|EXC|EXCL)\b/;

type Polygons = ZoneShape & { readonly kind: 'polygons' };

/** Bounds an area from outside, and what is cut out of it from inside, so that no ground is lost. */
const asPolygons = (shape: ZoneShape, lies: 'around' | 'inside'): Polygons =>
  shape.kind === 'polygons'
    ? shape
    : { kind: 'polygons', polygons: [[ringOfCircle(shape.centre, shape.radius, lies)]] };

/** A shape with a hole; undefined where the hole does not lie wholly in it, or meets another hole of it. */
const cut = (outer: ZoneShape, hole: ZoneShape): ZoneShape | undefined => {
  const from = asPolygons(outer, 'around');
  const taken = asPolygons(hole, 'inside');
  const [polygon, ...more] = from.polygons;
  const [ring] = taken.polygons[0] ?? [];
  if (polygon === undefined || more.length > 0 || ring === undefined || !liesWithin(taken, from)) return undefined;
  const earlier = polygon.slice(1).map((rings): Polygons => ({ kind: 'polygons', polygons: [[rings]] }));
  if (earlier.some((other) => shapesMeet(taken, other))) return undefined;
  return { kind: 'polygons', polygons: [[...polygon, ring]] };
};

/**
 * The area of a notice's text. What it excludes is cut out where it lies wholly inside; where it was not understood, or
 * lies across the edge, the whole area stays, and is open. Undefined where the area itself was not understood.
 */
export const areaIn = (text: string): NoticeArea | undefined => {
  const upper = text.toUpperCase();
  const word = EXCLUDING.exec(upper);
  if (word === null) {
    const shapes = shapesIn(upper);
    return shapes && { shapes };
  }
  const shapes = shapesIn(upper.slice(0, word.index));
  if (shapes === undefined) return undefined;
  const holes = shapesIn(upper.slice(word.index + word[0].length));
  const [outer, ...others] = shapes;
  if (holes === undefined || outer === undefined || others.length > 0) {
    return { shapes, open: 'a part of its area is excluded in words that could not be read' };
  }
  const left = holes.reduce<ZoneShape | undefined>((whole, hole) => whole && cut(whole, hole), outer);
  if (left === undefined) return { shapes, open: 'a part of its area is excluded that lies across its edge' };
  return { shapes: [left] };
};

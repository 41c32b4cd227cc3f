import { longitudeStep } from '../../geo/box.ts';
import { destination } from '../../geo/geodesy.ts';
import type { Shape } from '../../geo/shape.ts';
import type { LonLat } from '../../units/frames.ts';

/**
 * Lines and rings as RFC 7946 wants them: longitude first, outer rings counterclockwise and holes clockwise (3.1.6), and
 * nothing across the 180° meridian (3.1.9).
 */
export type Position = readonly [number, number];

const SIDES = 64;

const round = (degrees: number): number => Number(degrees.toFixed(7));
export const positionOf = ({ lon, lat }: LonLat): Position => [round(lon), round(lat)];

/** Longitudes that run on beyond 180° instead of jumping, counted from the first point. */
const unwrapped = (points: readonly LonLat[]): readonly Position[] => {
  let lon: number | undefined;
  return points.map((point): Position => {
    lon = lon === undefined ? (point.lon as number) : lon + longitudeStep(lon, point.lon);
    return [lon, point.lat];
  });
};

const turned = ([lon, lat]: Position, by: number): Position => [round(lon + by), round(lat)];

/** The part of a ring or line on one side of a meridian: Sutherland and Hodgman's clipping by a half-plane. */
const side = (
  points: readonly Position[],
  meridian: number,
  keep: 'west' | 'east',
  closed: boolean,
): readonly Position[] => {
  const inside = ([lon]: Position): boolean => (keep === 'west' ? lon <= meridian : lon >= meridian);
  const kept: Position[] = [];
  points.forEach((point, i) => {
    const before = points[i - 1] ?? (closed ? points[points.length - 1] : undefined);
    if (before !== undefined && inside(before) !== inside(point)) {
      const share = (meridian - before[0]) / (point[0] - before[0]);
      kept.push([meridian, before[1] + share * (point[1] - before[1])]);
    }
    if (inside(point)) kept.push(point);
  });
  return kept;
};

/** The turn by which longitudes around a value come into [-180, 180]. */
const turnOf = (points: readonly Position[]): number => {
  const middle = points.reduce((sum, [lon]) => sum + lon, 0) / Math.max(1, points.length);
  return -360 * Math.round(middle / 360);
};

/** The meridian of 180° that the points cross, as their unwrapped longitudes count it. */
const crossed = (points: readonly Position[]): number | undefined => {
  const lons = points.map(([lon]) => lon);
  const [west, east] = [Math.min(...lons), Math.max(...lons)];
  return [-180, 180].find((meridian) => west < meridian && east > meridian);
};

/** A line in one part, or in two where it crosses the 180° meridian. */
export const lineParts = (points: readonly LonLat[]): readonly (readonly Position[])[] => {
  const line = unwrapped(points);
  const meridian = crossed(line);
  const parts =
    meridian === undefined ? [line] : [side(line, meridian, 'west', false), side(line, meridian, 'east', false)];
  return parts.filter((part) => part.length > 1).map((part) => part.map((point) => turned(point, turnOf(part))));
};

/** Twice the area, positive counterclockwise. */
const winding = (ring: readonly Position[]): number =>
  ring.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length] ?? [x, y];
    return sum + (x * nextY - nextX * y);
  }, 0);

const closedRing = (ring: readonly Position[], way: 'outer' | 'hole'): readonly Position[] => {
  const by = turnOf(ring);
  const wound = winding(ring) > 0 === (way === 'outer') ? ring : [...ring].reverse();
  const closed = wound.map((point) => turned(point, by));
  const [first] = closed;
  return first === undefined ? [] : [...closed, first];
};

const polygonParts = (rings: readonly (readonly LonLat[])[]): readonly (readonly (readonly Position[])[])[] => {
  const [outer, ...holes] = rings.map(unwrapped);
  if (outer === undefined || outer.length < 3) return [];
  const meridian = crossed(outer);
  const cut = (ring: readonly Position[], keep: 'west' | 'east'): readonly Position[] =>
    meridian === undefined ? ring : side(ring, meridian, keep, true);
  // A hole may have been counted from the other side of the meridian; it lies within its outer ring.
  const near = holes.map((hole) => {
    const by = 360 * Math.round(((outer[0]?.[0] ?? 0) - (hole[0]?.[0] ?? 0)) / 360);
    return hole.map(([lon, lat]): Position => [lon + by, lat]);
  });
  return (meridian === undefined ? (['west'] as const) : (['west', 'east'] as const)).flatMap((keep) => {
    const whole = cut(outer, keep);
    if (whole.length < 3) return [];
    const inner = near.map((hole) => cut(hole, keep)).filter((hole) => hole.length > 2);
    return [[closedRing(whole, 'outer'), ...inner.map((hole) => closedRing(hole, 'hole'))]];
  });
};

/** A shape as a MultiPolygon's coordinates; a circle is drawn with 64 sides. */
export const shapeParts = (shape: Shape): readonly (readonly (readonly Position[])[])[] => {
  if (shape.kind === 'polygons') return shape.polygons.flatMap(polygonParts);
  const ring = Array.from({ length: SIDES }, (_, i) => destination(shape.centre, (-360 * i) / SIDES, shape.radius));
  return polygonParts([ring]);
};

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boxAround, growBox } from '../../server/src/geo/box.ts';
import { destination, distance, legPath } from '../../server/src/geo/geodesy.ts';
import { liesWithin } from '../../server/src/geo/lies-within.ts';
import { nearestToShape } from '../../server/src/geo/near-shape.ts';
import { partNear } from '../../server/src/geo/part-near.ts';
import { distanceToShape, insideShape, type Shape } from '../../server/src/geo/shape.ts';
import { shortEdged, stripAlong } from '../../server/src/geo/strip.ts';
import { lonLat, metres } from '../../server/src/units/frames.ts';

const RUNS = { seed: 20261125, numRuns: 60 };

const box = (west: number, south: number, east: number, north: number, ...holes: Shape[]): Shape => ({
  kind: 'polygons',
  polygons: [
    [
      [lonLat(west, south), lonLat(east, south), lonLat(east, north), lonLat(west, north)],
      ...holes.flatMap((hole) => (hole.kind === 'polygons' ? (hole.polygons[0] ?? []) : [])),
    ],
  ],
});
const circle = (lon: number, lat: number, radius: number): Shape => ({
  kind: 'circle',
  centre: lonLat(lon, lat),
  radius: metres(radius),
});

describe('a strip along a line', () => {
  test('between two places that are one there is none', () => {
    expect(stripAlong(lonLat(10, 47), lonLat(10, 47), 10, 10)).toBeUndefined();
  });

  test('holds what lies beside the line, and nothing farther away, wherever the line runs', () => {
    const place = fc.record({
      lon: fc.double({ min: -180, max: 179.9, noNaN: true }),
      lat: fc.double({ min: -70, max: 70, noNaN: true }),
    });
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        place,
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 50, max: 9000 }),
        share,
        share,
        (at, course, length, along, beside) => {
          const from = lonLat(at.lon, at.lat);
          const to = destination(from, course, length);
          const ring = stripAlong(from, to, 100, 0);
          if (ring === undefined) throw new Error('the line has a length');
          const path = legPath(from, to);
          const foot = path.at(length * (0.01 + 0.98 * along));
          const across = legPath(foot, to).course + 90;
          const strip: Shape = { kind: 'polygons', polygons: [[ring]] };
          expect(insideShape(strip, destination(foot, across, 99.9 * (2 * beside - 1)))).toBe(true);
          expect(insideShape(strip, destination(foot, across, 100.1 + 300 * beside))).toBe(false);
          expect(insideShape(strip, destination(foot, across + 180, 100.1 + 300 * beside))).toBe(false);
        },
      ),
      RUNS,
    );
  });
});

describe('the distance of a path from a large outline', () => {
  test('with short edges agrees with the nearest of a thousand places along the path', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -4000, max: 4000 }),
        fc.integer({ min: 10, max: 900 }),
        fc.integer({ min: 0, max: 359 }),
        (east, north, course) => {
          // The southern edge is 7.5 km long and straight in longitude and latitude, not on the ellipsoid.
          const area = shortEdged(box(10, 60, 10.134, 60.02));
          const corner = lonLat(10.067, 60);
          const start = destination(destination(corner, 90, east), 180, north);
          const path = legPath(start, destination(start, course, 400));
          const { distance: nearest } = nearestToShape(path, area);
          const sampled = Math.min(
            ...Array.from({ length: 1001 }, (_, i) => distanceToShape(area, path.at((path.length * i) / 1000))),
          );
          expect(nearest).toBeLessThan(sampled + 0.01);
          // A thousandth of the path is 0.4 m; between two samples the nearest place is at most half of that away.
          expect(nearest).toBeGreaterThan(sampled - 0.2 - 0.01);
        },
      ),
      { ...RUNS, numRuns: 25 },
    );
  });

  test('edges of at most 250 m stay on the line of the long edge', () => {
    const shape = shortEdged(box(179.9, 10, -179.9, 10.05));
    if (shape.kind !== 'polygons') throw new Error('a polygon stays one');
    const ring = shape.polygons[0]?.[0] ?? [];
    expect(ring.length).toBeGreaterThan(100);
    for (const [i, corner] of ring.entries()) {
      const next = ring[i + 1] ?? ring[0];
      if (next !== undefined) expect(distance(corner, next)).toBeLessThan(251);
      const onEdge = [10, 10.05].includes(corner.lat) || Math.abs(Math.abs(corner.lon) - 179.9) < 1e-9;
      expect(onEdge).toBe(true);
    }
  });
});

describe('one shape inside another', () => {
  const site = box(10, 47, 10.02, 47.02);

  test.each([
    ['a smaller box', box(10.005, 47.005, 10.01, 47.01), site, true],
    ['the same box', site, site, true],
    ['a box over the edge', box(10.015, 47.015, 10.025, 47.019), site, false],
    ['a box elsewhere', box(11, 47, 11.01, 47.01), site, false],
    ['a box around it', box(9, 46, 11, 48), site, false],
    ['a circle', circle(10.01, 47.01, 300), site, true],
    ['a circle over the edge', circle(10.002, 47.01, 300), site, false],
    ['a circle in a circle', circle(10, 47, 100), circle(10.001, 47, 180), true],
    ['a circle over a circle', circle(10, 47, 110), circle(10.001, 47, 180), false],
    ['a box in a circle', box(10, 47, 10.001, 47.001), circle(10.0005, 47.0005, 100), true],
    ['a box over a circle', box(10, 47, 10.003, 47.001), circle(10.0005, 47.0005, 100), false],
  ])('%s', (_, inner, outer, expected) => {
    expect(liesWithin(inner, outer)).toBe(expected);
  });

  test('a hole of the outer shape is not inside it, also where the inner shape goes all around the hole', () => {
    const pierced = box(10, 47, 10.02, 47.02, box(10.009, 47.009, 10.011, 47.011));
    expect(liesWithin(box(10.005, 47.005, 10.015, 47.015), pierced)).toBe(false);
    expect(liesWithin(box(10.001, 47.001, 10.008, 47.008), pierced)).toBe(true);
  });

  test('a shape that crosses a bay of the outer one is not inside', () => {
    const bay: Shape = {
      kind: 'polygons',
      polygons: [[[lonLat(10, 47), lonLat(10.02, 47), lonLat(10.02, 47.02), lonLat(10.01, 47.002), lonLat(10, 47.02)]]],
    };
    expect(liesWithin(box(10.001, 47.001, 10.019, 47.01), bay)).toBe(false);
    expect(liesWithin(box(10.001, 47.0005, 10.019, 47.001), bay)).toBe(true);
  });
});

describe('the part of a large outline that is near', () => {
  // A coast of 20,000 corners; every thousandth part of it looks alike.
  const coast: Shape = {
    kind: 'polygons',
    polygons: [
      [Array.from({ length: 20_000 }, (_, i) => destination(lonLat(10, 60), (360 * i) / 20_000, 9000 + 40 * (i % 7)))],
    ],
  };

  test('is much smaller and as far away as the whole, from outside', () => {
    for (const course of [0, 77, 180, 301]) {
      const start = destination(lonLat(10, 60), course, 9600);
      const path = legPath(start, destination(start, course + 70, 300));
      const around = boxAround([path.from, path.to]);
      if (around === undefined) throw new Error('a path has a box');
      const part = partNear(coast, growBox(around, 1000));
      if (part.kind !== 'polygons') throw new Error('an outline stays one');
      expect(part.polygons.flat(2).length).toBeGreaterThan(10);
      expect(part.polygons.flat(2).length).toBeLessThan(4000);
      expect(nearestToShape(path, part).distance).toBeCloseTo(nearestToShape(path, coast).distance, 3);
    }
  });

  test('is nothing where the outline is far away', () => {
    const around = boxAround([lonLat(11, 60)]);
    if (around === undefined) throw new Error('a place has a box');
    expect(partNear(coast, growBox(around, 1000))).toEqual({ kind: 'polygons', polygons: [] });
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { destination, distance, legPath } from '../../server/src/geo/geodesy.ts';
import { betweenShapes, intervalsNear, nearestToShape } from '../../server/src/geo/near-shape.ts';
import { distanceToShape, type Shape } from '../../server/src/geo/shape.ts';
import { placeBeyond } from '../../server/src/geo/shape-beyond.ts';
import { type LonLat, lonLat, metres } from '../../server/src/units/frames.ts';

const HERE = lonLat(-120.499, 47.5);

/** A place some metres east and north of the middle of these tests. */
const at = (east: number, north: number): LonLat =>
  destination(HERE, (Math.atan2(east, north) * 180) / Math.PI, Math.hypot(east, north));

const polygon = (...corners: readonly (readonly [number, number])[]): Shape => ({
  kind: 'polygons',
  polygons: [[corners.map(([east, north]) => at(east, north))]],
});

const circle = (east: number, north: number, radius: number): Shape => ({
  kind: 'circle',
  centre: at(east, north),
  radius: metres(radius),
});

const hall = polygon([-10, -5], [10, -5], [10, 5], [-10, 5]);

describe('a path near a footprint', () => {
  test('beside a long wall it is near along the wall and a quarter circle at each of its corners', () => {
    const path = legPath(at(-100, 30), at(100, 30));
    const [near, ...others] = intervalsNear(hall, path, metres(30));
    expect(others).toEqual([]);
    // 25 m beside the wall: the corners are reached sqrt(30² - 25²) = 16.583 m before and behind it.
    expect(near?.from).toBeCloseTo(100 - 10 - Math.sqrt(275), 2);
    expect(near?.to).toBeCloseTo(100 + 10 + Math.sqrt(275), 2);
  });

  test('at the very reach it touches, a centimetre beyond it does not', () => {
    expect(intervalsNear(hall, legPath(at(60, -50), at(60, 50)), metres(50)).length).toBe(1);
    expect(intervalsNear(hall, legPath(at(60.01, -50), at(60.01, 50)), metres(50))).toEqual([]);
  });

  test('over the footprint it is at no distance, and a path inside is near all along', () => {
    const path = legPath(at(-2, 0), at(2, 0));
    expect(nearestToShape(path, hall)).toEqual({ distance: 0, along: 0 });
    expect(intervalsNear(hall, path, metres(1))).toEqual([{ from: 0, to: path.length }]);
  });

  test('of a path without length the one place counts', () => {
    expect(intervalsNear(hall, legPath(at(15, 0), at(15, 0)), metres(5))).toEqual([{ from: 0, to: 0 }]);
    expect(intervalsNear(hall, legPath(at(15.1, 0), at(15.1, 0)), metres(5))).toEqual([]);
  });

  test('sampling finds the same, for any path and reach', () => {
    const coordinate = fc.integer({ min: -150, max: 150 });
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        coordinate,
        coordinate,
        fc.integer({ min: 1, max: 120 }),
        (a, b, c, d, reach) => {
          const path = legPath(at(a, b), at(c, d));
          const near = intervalsNear(hall, path, metres(reach));
          let least = Number.POSITIVE_INFINITY;
          for (let i = 0; i <= 40; i++) {
            const along = (path.length * i) / 40;
            const off = distanceToShape(hall, path.at(along));
            least = Math.min(least, off);
            const isNear = near.some(({ from, to }) => along >= from - 1e-6 && along <= to + 1e-6);
            if (off < reach - 0.01) expect(isNear).toBe(true);
            if (off > reach + 0.01) expect(isNear).toBe(false);
          }
          const nearest = nearestToShape(path, hall);
          expect(nearest.distance).toBeLessThanOrEqual(least + 0.01);
          expect(Math.abs(distanceToShape(hall, path.at(nearest.along)) - nearest.distance)).toBeLessThan(0.02);
        },
      ),
      { numRuns: 150 },
    );
  });

  test('distances between shapes', () => {
    expect(betweenShapes(circle(60, 0, 20), hall)).toBeCloseTo(30, 2);
    expect(betweenShapes(hall, circle(60, 0, 20))).toBeCloseTo(30, 2);
    expect(betweenShapes(hall, polygon([13, 9], [30, 9], [30, 20]))).toBeCloseTo(5, 2);
    expect(betweenShapes(hall, circle(0, 0, 1))).toBe(0);
    expect(betweenShapes(hall, polygon([-50, -50], [50, -50], [50, 50], [-50, 50]))).toBe(0);
  });
});

describe('what of an area and a zone lies outside of what is allowed', () => {
  const zone = polygon([0, -100], [100, -100], [100, 100], [0, 100]);

  test('an area whose part in the zone is allowed, although the area reaches out of both', () => {
    expect(placeBeyond(circle(0, 0, 25), zone, polygon([0, -30], [30, -30], [30, 30], [0, 30]))).toBeUndefined();
  });

  test('an area that reaches out of what is allowed, in the zone', () => {
    const place = placeBeyond(circle(0, 0, 25), zone, polygon([0, -20], [30, -20], [30, 20], [0, 20]));
    expect(place).toBeDefined();
    if (place !== undefined) expect(distance(HERE, place)).toBeLessThan(25.05);
  });

  test('an area around all of a zone, which is allowed only in part', () => {
    const small = circle(0, 0, 10);
    expect(placeBeyond(circle(0, 0, 50), small, circle(0, 0, 10))).toBeUndefined();
    expect(placeBeyond(circle(0, 0, 50), small, circle(0, 0, 9.9))).toBeDefined();
  });

  test('an area and a zone that do not meet leave nothing', () => {
    expect(placeBeyond(circle(-50, 0, 25), zone, circle(500, 0, 1))).toBeUndefined();
  });

  test('sampling finds nothing more', () => {
    const coordinate = fc.integer({ min: -80, max: 80 });
    const size = fc.integer({ min: 5, max: 90 });
    fc.assert(
      fc.property(coordinate, coordinate, size, coordinate, coordinate, size, (a, b, r, c, d, s) => {
        const area = circle(a, b, r);
        const allowed = circle(c, d, s);
        const found = placeBeyond(area, zone, allowed) !== undefined;
        let sampled = false;
        for (let x = -180; x <= 180; x += 12) {
          for (let y = -180; y <= 180; y += 12) {
            const place = at(x, y);
            if (distance(place, at(a, b)) > r - 0.1 || x < 0.1 || x > 99.9 || Math.abs(y) > 99.9) continue;
            if (distanceToShape(allowed, place) > 0.1) sampled = true;
          }
        }
        if (sampled) expect(found).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});

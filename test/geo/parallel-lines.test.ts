import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { crossingEdges } from '../../server/src/geo/crossing-edges.ts';
import { flatFrame, middleOf } from '../../server/src/geo/flat-frame.ts';
import { destination, distance, legPath } from '../../server/src/geo/geodesy.ts';
import { type FlightLine, type LinesWanted, linesOver } from '../../server/src/geo/parallel-lines.ts';
import { insideShape } from '../../server/src/geo/shape.ts';
import { type LonLat, lonLat } from '../../server/src/units/frames.ts';

const RUNS = { seed: 20261125, numRuns: 120 };

const wanted = (course: number, spacing: number, firstTurn: 'left' | 'right' = 'right'): LinesWanted => ({
  course,
  spacing,
  firstTurn,
  most: 2000,
});

const linesOf = (ring: readonly LonLat[], how: LinesWanted): readonly FlightLine[] => {
  const found = linesOver(ring, how);
  if ('tooMany' in found) throw new Error(`${found.tooMany} lines`);
  return found.lines;
};

/** A ring around a place with a corner in each of some directions, each at its own distance: concave, never crossing. */
const star = (centre: LonLat, reaches: readonly number[]): readonly LonLat[] =>
  reaches.map((reach, i) => destination(centre, (360 * i) / reaches.length, reach));

const centres = fc.record({
  lon: fc.constantFrom(-179.9995, -120.5, 0.0001, 179.9999),
  lat: fc.constantFrom(-65, -33.5, 0, 47.5, 68),
});
const reaches = fc.array(fc.integer({ min: 20, max: 600 }), { minLength: 3, maxLength: 12 });
const courses = fc.integer({ min: 0, max: 360 });
const spacings = fc.integer({ min: 5, max: 90 });

/** Distance in the plane from a place to a line, at most a few millimetres off. */
const fromLine = (at: LonLat, { start, end }: FlightLine): number => {
  const frame = flatFrame(at);
  const [a, b] = [frame.place(start), frame.place(end)];
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const square = dx * dx + dy * dy;
  const share = square > 0 ? Math.min(1, Math.max(0, -(a.x * dx + a.y * dy) / square)) : 0;
  return Math.hypot(a.x + share * dx, a.y + share * dy);
};

describe('lines over an outline', () => {
  test('leave no place of it farther than half the spacing from a line, also in the bays and tips of a star', () => {
    fc.assert(
      fc.property(
        centres,
        reaches,
        courses,
        spacings,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true })),
        (at, far, course, spacing, shares) => {
          const centre = lonLat(at.lon, at.lat);
          const ring = star(centre, far);
          const lines = linesOf(ring, wanted(course, spacing));
          const inside = ring.flatMap((corner, i) => {
            const next = ring[(i + 1) % ring.length] ?? corner;
            const edge = legPath(corner, next);
            return shares.slice(0, 6).flatMap((share) => {
              const onEdge = edge.at(edge.length * share);
              const ray = legPath(centre, onEdge);
              return [onEdge, ray.at(ray.length * share)];
            });
          });
          for (const place of inside) {
            expect(Math.min(...lines.map((line) => fromLine(place, line)))).toBeLessThan(spacing / 2 + 0.06);
          }
        },
      ),
      RUNS,
    );
  });

  test('are the same from whichever corner the ring starts, whichever way round it runs, and a whole turn further', () => {
    fc.assert(
      fc.property(centres, reaches, courses, spacings, fc.nat(11), (at, far, course, spacing, start) => {
        const ring = star(lonLat(at.lon, at.lat), far);
        const lines = linesOf(ring, wanted(course, spacing));
        const k = start % ring.length;
        const turned = [...ring.slice(k), ...ring.slice(0, k)];
        expect(linesOf(turned, wanted(course, spacing))).toEqual(lines);
        const shifted = turned.map(({ lon, lat }) => lonLat(lon + (lon < 0 ? 360 : -360), lat));
        const moved = linesOf(shifted, wanted(course, spacing));
        expect(moved.length).toBe(lines.length);
        moved.forEach((line, i) => {
          const same = lines[i];
          if (same === undefined) throw new Error('a line is missing');
          expect(distance(line.start, same.start)).toBeLessThan(0.001);
          expect(distance(line.end, same.end)).toBeLessThan(0.001);
        });
        const reversed = linesOf([...ring].reverse(), wanted(course, spacing));
        reversed.forEach((line, i) => {
          expect(distance(line.start, lines[i]?.start ?? line.end)).toBeLessThan(0.001);
        });
      }),
      RUNS,
    );
  });

  test('are flown to and fro on their course, each the spacing beside the one before', () => {
    const centre = lonLat(-120.5, 47.5);
    const square = [225, 315, 45, 135].map((bearing) => destination(centre, bearing, 100 * Math.SQRT2));
    for (const [firstTurn, side] of [
      ['right', 90],
      ['left', 270],
    ] as const) {
      const lines = linesOf(square, wanted(0, 40, firstTurn));
      expect(lines.length).toBe(5);
      lines.forEach((line, i) => {
        const { length, course } = legPath(line.start, line.end);
        expect(length).toBeCloseTo(200, 1);
        expect(Math.abs(((course - (i % 2 === 0 ? 0 : 180) + 540) % 360) - 180)).toBeLessThan(0.01);
        const next = lines[i + 1];
        if (next === undefined) return;
        const across = legPath(line.end, next.start);
        expect(across.length).toBeCloseTo(40, 2);
        expect(Math.abs(across.course - side)).toBeLessThan(0.05);
      });
    }
  });

  test('are one along the middle of an outline that is thinner than the spacing', () => {
    const start = lonLat(-120.5, 47.5);
    const end = destination(start, 30, 500);
    const ring = [
      destination(start, 300, 4),
      destination(end, 300, 4),
      destination(end, 120, 4),
      destination(start, 120, 4),
    ];
    const lines = linesOf(ring, wanted(30, 50));
    expect(lines.length).toBe(1);
    const [line] = lines;
    if (line === undefined) throw new Error('no line');
    expect(distance(line.start, start)).toBeLessThan(0.05);
    expect(distance(line.end, end)).toBeLessThan(0.05);
    expect(linesOf(ring, wanted(120, 50)).length).toBe(10);
  });

  test('are as many as fit an exact number of spacings, not one more by rounding', () => {
    for (const count of [1, 2, 3, 7, 100, 1999]) {
      const corner = lonLat(8.25, 46.5);
      const along = destination(corner, 90, 300);
      const width = count * 7;
      const ring = [corner, along, destination(along, 0, width), destination(corner, 0, width)];
      const lines = linesOver(ring, wanted(90, 7));
      expect('lines' in lines ? lines.lines.length : lines.tooMany).toBe(count);
    }
  });

  test('are counted and not made where there would be too many', () => {
    const ring = star(lonLat(8, 46), [30_000, 30_000, 30_000, 30_000]);
    const found = linesOver(ring, { ...wanted(0, 0.006), most: 2000 });
    expect('tooMany' in found && found.tooMany).toBeGreaterThan(9_000_000);
  });
});

describe('edges of a ring that cross', () => {
  test('are found whichever corner it starts at', () => {
    const ring = [lonLat(8, 46), lonLat(8.001, 46.001), lonLat(8.001, 46), lonLat(8, 46.001)];
    expect(crossingEdges(ring)).toEqual([0, 2]);
    expect(crossingEdges([...ring.slice(1), ...ring.slice(0, 1)])).toEqual([1, 3]);
  });

  test('are none in a star, nor where a ring touches itself', () => {
    fc.assert(
      fc.property(centres, reaches, (at, far) => {
        const ring = star(lonLat(at.lon, at.lat), far);
        fc.pre(far.length > 3 || insideShape({ kind: 'polygons', polygons: [[ring]] }, lonLat(at.lon, at.lat)));
        expect(crossingEdges(ring)).toBeUndefined();
      }),
      RUNS,
    );
    const waist = lonLat(8.0005, 46.0005);
    const eight = [lonLat(8, 46), waist, lonLat(8.001, 46.001), lonLat(8.001, 46), waist, lonLat(8, 46.001)];
    expect(crossingEdges(eight)).toBeUndefined();
  });
});

describe('the flat frame', () => {
  test('keeps distances from its centre, and brings every place back', () => {
    fc.assert(
      fc.property(centres, courses, fc.integer({ min: 0, max: 30_000 }), (at, course, far) => {
        const centre = lonLat(at.lon, at.lat);
        const frame = flatFrame(centre);
        const place = destination(centre, course, far);
        const flat = frame.place(place);
        expect(Math.abs(Math.hypot(flat.x, flat.y) - far)).toBeLessThan(0.000001 + far * 1e-9);
        expect(distance(frame.back(flat), place)).toBeLessThan(0.0001);
      }),
      RUNS,
    );
  });

  test('is off by no more than it says between two other places', () => {
    const centre = lonLat(-120.5, 60);
    const frame = flatFrame(centre);
    const [one, other] = [destination(centre, 80, 30_000), destination(centre, 82, 30_000)];
    const [a, b] = [frame.place(one), frame.place(other)];
    const real = distance(one, other);
    expect(Math.abs(Math.hypot(a.x - b.x, a.y - b.y) / real - 1)).toBeLessThan(4e-6);
  });

  test('has its middle between the outermost places, over the 180° meridian too', () => {
    expect(middleOf([lonLat(179.9, 10), lonLat(-179.9, 12)])).toEqual(lonLat(-180, 11));
  });
});

import * as turf from '@turf/turf';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { destination, distance, legPath } from '../../server/src/geo/geodesy.ts';
import { innerPoint } from '../../server/src/geo/inner-point.ts';
import { commonIntervals, freeOf, mergeIntervals } from '../../server/src/geo/interval.ts';
import { nearestAlong } from '../../server/src/geo/nearest-along.ts';
import { distanceToShape, insideShape, intervalsInside, type Shape, shapesMeet } from '../../server/src/geo/shape.ts';
import { type LonLat, lonLat, metres } from '../../server/src/units/frames.ts';

const polygon = (...rings: readonly (readonly (readonly [number, number])[])[]): Shape => ({
  kind: 'polygons',
  polygons: [rings.map((ring) => ring.map(([lon, lat]) => lonLat(lon, lat)))],
});

const square = (west: number, south: number, side: number): readonly (readonly [number, number])[] => [
  [west, south],
  [west + side, south],
  [west + side, south + side],
  [west, south + side],
];

const circle = (lon: number, lat: number, radius: number): Shape => ({
  kind: 'circle',
  centre: lonLat(lon, lat),
  radius: metres(radius),
});

const leg = (lon0: number, lat0: number, lon1: number, lat1: number) => legPath(lonLat(lon0, lat0), lonLat(lon1, lat1));

describe('a leg and a polygon', () => {
  const box = polygon(square(0, 0, 0.1));

  test('a leg wholly inside is inside from end to end', () => {
    const path = leg(0.02, 0.02, 0.07, 0.05);
    expect(intervalsInside(box, path)).toEqual([{ from: 0, to: path.length }]);
  });

  test('a leg that crosses has one stretch, from edge to edge', () => {
    const path = leg(-0.1, 0.05, 0.2, 0.05);
    const [stretch, ...others] = intervalsInside(box, path);
    expect(others).toEqual([]);
    expect(path.at(stretch?.from ?? 0).lon).toBeCloseTo(0, 7);
    expect(path.at(stretch?.to ?? 0).lon).toBeCloseTo(0.1, 7);
  });

  test('a leg that misses has none', () => {
    expect(intervalsInside(box, leg(-0.1, 0.2, 0.2, 0.2))).toEqual([]);
    expect(intervalsInside(box, leg(-0.2, 0.05, -0.001, 0.05))).toEqual([]);
  });

  test('a leg along an edge is inside all the way', () => {
    const path = leg(0.1, 0.02, 0.1, 0.08);
    expect(intervalsInside(box, path)).toEqual([{ from: 0, to: path.length }]);
  });

  test('a leg through a corner touches there', () => {
    const path = leg(-0.05, 0.05, 0.05, -0.05);
    const [touch, ...others] = intervalsInside(box, path);
    expect(others).toEqual([]);
    const from = touch?.from ?? Number.NaN;
    const to = touch?.to ?? Number.NaN;
    expect(to - from).toBeLessThan(0.01);
    expect((from + to) / 2).toBeCloseTo(path.length / 2, 1);
  });

  test('a leg that ends on an edge touches it', () => {
    expect(intervalsInside(box, leg(-0.05, 0.05, 0, 0.05))).toHaveLength(1);
  });

  test('a leg without length is inside, on the edge, or outside', () => {
    expect(intervalsInside(box, leg(0.05, 0.05, 0.05, 0.05))).toEqual([{ from: 0, to: 0 }]);
    expect(intervalsInside(box, leg(0, 0.05, 0, 0.05))).toEqual([{ from: 0, to: 0 }]);
    expect(intervalsInside(box, leg(-0.001, 0.05, -0.001, 0.05))).toEqual([]);
  });

  test('a hole is outside, its edge inside', () => {
    const ringed = polygon(square(0, 0, 0.1), square(0.04, 0.04, 0.02));
    const path = leg(-0.05, 0.05, 0.15, 0.05);
    const stretches = intervalsInside(ringed, path);
    expect(stretches).toHaveLength(2);
    expect(path.at(stretches[0]?.to ?? 0).lon).toBeCloseTo(0.04, 7);
    expect(path.at(stretches[1]?.from ?? 0).lon).toBeCloseTo(0.06, 7);
    expect(intervalsInside(ringed, leg(0.045, 0.045, 0.055, 0.055))).toEqual([]);
    expect(insideShape(ringed, lonLat(0.04, 0.05))).toBe(true);
    const along = leg(0.04, 0.042, 0.04, 0.058);
    expect(intervalsInside(ringed, along)).toEqual([{ from: 0, to: along.length }]);
  });

  test('a ring that touches itself is inside on both sides of the touch', () => {
    // The touch lies on the equator, which is a geodesic.
    const eight = polygon([
      [0, -0.1],
      [0.1, 0],
      [0.2, -0.1],
      [0.2, 0.1],
      [0.1, 0],
      [0, 0.1],
    ]);
    const path = leg(-0.05, 0, 0.25, 0);
    const stretches = intervalsInside(eight, path);
    expect(stretches).toHaveLength(1);
    expect(path.at(stretches[0]?.from ?? 0).lon).toBeCloseTo(0, 6);
    expect(path.at(stretches[0]?.to ?? 0).lon).toBeCloseTo(0.2, 6);
    expect(insideShape(eight, lonLat(0.1, 0.05))).toBe(false);
    expect(insideShape(eight, lonLat(0.1, 0))).toBe(true);
  });

  test('a ring that repeats its first corner, or any corner, is the same ring', () => {
    const closed = polygon([...square(0, 0, 0.1), [0, 0], [0, 0]]);
    const path = leg(-0.1, 0.03, 0.2, 0.07);
    expect(intervalsInside(closed, path)).toEqual(intervalsInside(box, path));
  });

  test('parts of a zone that meet give one stretch', () => {
    const two: Shape = {
      kind: 'polygons',
      polygons: [square(0, 0, 0.1), square(0.1, 0, 0.1)].map((ring) => [ring.map(([lon, lat]) => lonLat(lon, lat))]),
    };
    const path = leg(-0.05, 0.05, 0.25, 0.05);
    expect(intervalsInside(two, path)).toHaveLength(1);
  });

  test.each([
    [
      'with signs as they fall',
      polygon([
        [179.9, 0],
        [-179.9, 0],
        [-179.9, 0.1],
        [179.9, 0.1],
      ]),
    ],
    [
      'with longitudes over 180',
      polygon([
        [179.9, 0],
        [180.1, 0],
        [180.1, 0.1],
        [179.9, 0.1],
      ]),
    ],
    [
      'with longitudes under -180',
      polygon([
        [-180.1, 0],
        [-179.9, 0],
        [-179.9, 0.1],
        [-180.1, 0.1],
      ]),
    ],
    [
      'cut there, as RFC 7946 section 3.1.9 asks',
      {
        kind: 'polygons',
        polygons: [
          [[lonLat(179.9, 0), lonLat(180, 0), lonLat(180, 0.1), lonLat(179.9, 0.1)]],
          [[lonLat(-180, 0), lonLat(-179.9, 0), lonLat(-179.9, 0.1), lonLat(-180, 0.1)]],
        ],
      } satisfies Shape,
    ],
  ])('a zone across the 180° meridian, %s, is met on both sides', (_, shape) => {
    const across = leg(179.8, 0.05, -179.8, 0.05);
    const [stretch, ...others] = intervalsInside(shape, across);
    expect(others).toEqual([]);
    expect(stretch?.from).toBeCloseTo(across.length / 4, 0);
    expect(stretch?.to).toBeCloseTo((3 * across.length) / 4, 0);
    expect(insideShape(shape, lonLat(-179.95, 0.05))).toBe(true);
    expect(insideShape(shape, lonLat(179.95, 0.05))).toBe(true);
    expect(insideShape(shape, lonLat(0, 0.05))).toBe(false);
  });

  test('a zone of all the world holds every leg, a band all round only its own', () => {
    const world = polygon([
      [-180, -90],
      [180, -90],
      [180, 90],
      [-180, 90],
    ]);
    const band = polygon([
      [-180, 10],
      [180, 10],
      [180, 20],
      [-180, 20],
    ]);
    const path = leg(179.95, 15, -179.9, 15.1);
    expect(intervalsInside(world, path)).toEqual([{ from: 0, to: path.length }]);
    expect(intervalsInside(band, path)).toEqual([{ from: 0, to: path.length }]);
    expect(intervalsInside(band, leg(5, 9, 5.1, 9))).toEqual([]);
  });

  test('agrees with an independent point-in-polygon test, away from the edges', () => {
    const corner = fc.tuple(
      fc.double({ min: -0.1, max: 0.1, noNaN: true }),
      fc.double({ min: -0.1, max: 0.1, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.2, max: 1, noNaN: true }), { minLength: 3, maxLength: 12 }),
        corner,
        corner,
        (spokes, [x0, y0], [x1, y1]) => {
          // A star round the origin at 50° north, with a hole of the same form in it.
          const star = (size: number) =>
            spokes.map((spoke, i): readonly [number, number] => {
              const turn = (2 * Math.PI * i) / spokes.length;
              return [20 + size * spoke * Math.cos(turn), 50 + size * spoke * Math.sin(turn)];
            });
          const shape = polygon(star(0.08), star(0.03));
          const feature = turf.polygon(
            [star(0.08), star(0.03)].map((ring) => [...ring, ring[0]].map((c) => [...(c ?? [])])),
          );
          const path = leg(20 + x0, 50 + y0, 20 + x1, 50 + y1);
          const stretches = intervalsInside(shape, path);
          for (let i = 0; i <= 100; i++) {
            const along = (path.length * i) / 100;
            const { lon, lat } = path.at(along);
            const isNearEdge = stretches.some(
              ({ from, to }) => Math.abs(from - along) < 0.5 || Math.abs(to - along) < 0.5,
            );
            if (isNearEdge) continue;
            const holds = stretches.some(({ from, to }) => from <= along && along <= to);
            expect(holds).toBe(turf.booleanPointInPolygon([lon, lat], feature));
          }
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe('laws of legs and zones', () => {
  const corner = fc.tuple(
    fc.double({ min: -0.1, max: 0.1, noNaN: true }),
    fc.double({ min: -0.1, max: 0.1, noNaN: true }),
  );
  const spokes = fc.array(fc.double({ min: 0.2, max: 1, noNaN: true }), { minLength: 3, maxLength: 9 });
  const starAt = (lon: number, radii: readonly number[]): readonly (readonly [number, number])[] =>
    radii.map((radius, i) => {
      const turn = (2 * Math.PI * i) / radii.length;
      return [lon + 0.08 * radius * Math.cos(turn), 50 + 0.08 * radius * Math.sin(turn)];
    });
  const lengthOf = (stretches: readonly { from: number; to: number }[]): number =>
    stretches.reduce((sum, { from, to }) => sum + to - from, 0);

  test('cutting a leg in two changes nothing of what lies inside', () => {
    fc.assert(
      fc.property(spokes, corner, corner, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (radii, a, b, share) => {
        const shape = polygon(starAt(20, radii));
        const path = leg(20 + a[0], 50 + a[1], 20 + b[0], 50 + b[1]);
        const middle = path.at(path.length * share);
        const parts = [legPath(path.from, middle), legPath(middle, path.to)];
        const cut = parts.reduce((sum, part) => sum + lengthOf(intervalsInside(shape, part)), 0);
        expect(Math.abs(cut - lengthOf(intervalsInside(shape, path)))).toBeLessThan(0.5);
        const isInside = intervalsInside(shape, path).some(({ from, to }) => to - from > 0.5);
        if (isInside) expect(cut).toBeGreaterThan(0);
      }),
      { seed: 41, numRuns: 200 },
    );
  });

  test('moving zone and leg by any longitude, also by a whole turn, changes nothing', () => {
    fc.assert(
      fc.property(spokes, corner, corner, fc.constantFrom(180, -180, 360, -360, 160.02, 93), (radii, a, b, shift) => {
        const here = intervalsInside(polygon(starAt(0, radii)), leg(a[0], 50 + a[1], b[0], 50 + b[1]));
        const wrap = (lon: number): number => (lon >= 180 ? lon - 360 : lon < -180 ? lon + 360 : lon);
        // The leg's longitudes are read into range; a file's may run over the meridian or past it.
        const whole = Math.abs(shift) === 360 ? 0 : shift;
        const path = leg(wrap(a[0] + whole), 50 + a[1], wrap(b[0] + whole), 50 + b[1]);
        const there = intervalsInside(polygon(starAt(shift, radii)), path);
        expect(there.length).toBe(here.length);
        there.forEach((stretch, i) => {
          expect(Math.abs(stretch.from - (here[i]?.from ?? Number.NaN))).toBeLessThan(0.05);
          expect(Math.abs(stretch.to - (here[i]?.to ?? Number.NaN))).toBeLessThan(0.05);
        });
      }),
      { seed: 43, numRuns: 200 },
    );
  });

  test('a leg over the pole ends with an answer', () => {
    const cap = polygon([
      [-180, 89],
      [180, 89],
      [180, 90],
      [-180, 90],
    ]);
    const path = leg(10, 89.95, -170, 89.95);
    expect(lengthOf(intervalsInside(cap, path))).toBeGreaterThan(path.length - 1);
    expect(intervalsInside(polygon(square(10, 50, 1)), path)).toEqual([]);
  });
});

describe('a leg and a circle', () => {
  test('the stretch ends where the geodesic distance is the radius', () => {
    const at = fc.tuple(
      fc.double({ min: -0.3, max: 0.3, noNaN: true }),
      fc.double({ min: -0.3, max: 0.3, noNaN: true }),
    );
    fc.assert(
      fc.property(at, at, fc.double({ min: 10, max: 20_000, noNaN: true }), (from, to, radius) => {
        const shape = circle(-70, 44, radius);
        const path = leg(-70 + from[0], 44 + from[1], -70 + to[0], 44 + to[1]);
        const stretches = intervalsInside(shape, path);
        expect(stretches.length).toBeLessThan(2);
        const centre = lonLat(-70, 44);
        for (let i = 0; i <= 200; i++) {
          const along = (path.length * i) / 200;
          const away = distance(centre, path.at(along));
          const holds = stretches.some((stretch) => stretch.from <= along && along <= stretch.to);
          if (Math.abs(away - radius) > 0.02) expect(holds).toBe(away < radius);
        }
      }),
      { seed: 17, numRuns: 100 },
    );
  });

  test('a leg that only brushes the rim is found, one a metre off is not', () => {
    const centre = lonLat(8, 47);
    const tangent = (away: number) => {
      const foot = destination(centre, 0, away);
      return legPath(destination(foot, 270, 400), destination(foot, 90, 400));
    };
    expect(intervalsInside(circle(8, 47, 500), tangent(500))).toHaveLength(1);
    expect(intervalsInside(circle(8, 47, 500), tangent(501))).toEqual([]);
  });

  test('lies across the 180° meridian like anywhere else', () => {
    const here = intervalsInside(circle(20, -17, 900), leg(19.98, -17.001, 20.02, -16.999));
    const there = intervalsInside(circle(180, -17, 900), leg(179.98, -17.001, -179.98, -16.999));
    expect(there).toHaveLength(1);
    expect(there[0]?.from).toBeCloseTo(here[0]?.from ?? Number.NaN, 4);
    expect(there[0]?.to).toBeCloseTo(here[0]?.to ?? Number.NaN, 4);
  });
});

describe('an area and a zone', () => {
  const zone = polygon(square(0, 0, 0.1), square(0.04, 0.04, 0.02));

  test.each<[string, Shape, boolean]>([
    ['an area inside the zone', circle(0.02, 0.02, 50), true],
    ['an area around the whole zone', polygon(square(-0.1, -0.1, 0.3)), true],
    ['an area that overlaps its edge', polygon(square(0.09, 0.09, 0.05)), true],
    ['an area that touches a corner', polygon(square(0.1, 0.1, 0.05)), true],
    ['an area apart', polygon(square(0.101, 0.101, 0.05)), false],
    ['an area wholly in the hole', circle(0.05, 0.05, 100), false],
    ['an area in the hole that reaches over it', circle(0.05, 0.05, 1200), true],
    [
      'a bar across the zone, no corner of either inside the other',
      polygon([
        [-0.1, 0.01],
        [0.2, 0.01],
        [0.2, 0.02],
        [-0.1, 0.02],
      ]),
      true,
    ],
    ['a single place inside', polygon([[0.01, 0.01]]), true],
    ['a single place outside', polygon([[0.11, 0.01]]), false],
  ])('%s', (_, area, expected) => {
    expect(shapesMeet(area, zone)).toBe(expected);
  });

  test('circles meet when their radii reach each other', () => {
    const apart = distance(lonLat(5, 52), lonLat(5.01, 52));
    expect(shapesMeet(circle(5, 52, 300), circle(5.01, 52, apart - 299))).toBe(true);
    expect(shapesMeet(circle(5, 52, 300), circle(5.01, 52, apart - 301))).toBe(false);
  });

  test('a small circular zone inside a polygonal area is met', () => {
    expect(shapesMeet(polygon(square(0, 0, 0.1)), circle(0.05, 0.05, 10))).toBe(true);
    expect(shapesMeet(polygon(square(0, 0, 0.1)), circle(0.2, 0.05, 10))).toBe(false);
  });
});

describe('distances', () => {
  test('to a polygon are 0 inside and geodesic outside', () => {
    const box = polygon(square(10, 50, 0.1));
    expect(distanceToShape(box, lonLat(10.05, 50.05))).toBe(0);
    expect(distanceToShape(box, lonLat(9.99, 50.05))).toBeCloseTo(distance(lonLat(9.99, 50.05), lonLat(10, 50.05)), 1);
    expect(distanceToShape(box, lonLat(10.05, 49.99))).toBeCloseTo(
      distance(lonLat(10.05, 49.99), lonLat(10.05, 50)),
      1,
    );
    const across = polygon([
      [179.9, 0],
      [-179.9, 0],
      [-179.9, 0.1],
      [179.9, 0.1],
    ]);
    expect(distanceToShape(across, lonLat(-179.89, 0.05))).toBeCloseTo(0.01 * 111_319.49, 0);
  });

  test('from a leg are least where dense sampling says', () => {
    const path = leg(7, 46, 7.05, 46.02);
    for (const at of [lonLat(7.02, 46.02), lonLat(6.99, 46), lonLat(7.06, 46.03), lonLat(7.03, 45.99)]) {
      const nearest = nearestAlong(path, at);
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 20_000; i++) least = Math.min(least, distance(at, path.at((path.length * i) / 20_000)));
      expect(nearest.distance).toBeLessThan(least + 0.01);
      expect(nearest.distance).toBeGreaterThan(least - 0.01);
    }
  });
});

describe('the place that stands for an area', () => {
  const inside = (ring: readonly LonLat[]): boolean => {
    const place = innerPoint(ring);
    return place !== undefined && insideShape({ kind: 'polygons', polygons: [[ring]] }, place);
  };
  const ringOf = (corners: readonly (readonly [number, number])[]) => corners.map(([lon, lat]) => lonLat(lon, lat));

  test('of a square is its middle', () => {
    const place = innerPoint(ringOf(square(10, 50, 0.1)));
    expect(place?.lon).toBeCloseTo(10.05, 9);
    expect(place?.lat).toBeCloseTo(50.05, 9);
  });

  test.each<[string, readonly (readonly [number, number])[]]>([
    [
      'a crescent',
      [
        [0, 0],
        [0.1, 0],
        [0.1, 0.01],
        [0.01, 0.01],
        [0.01, 0.09],
        [0.1, 0.09],
        [0.1, 0.1],
        [0, 0.1],
      ],
    ],
    [
      'a square across the 180° meridian',
      [
        [179.9, 0],
        [-179.9, 0],
        [-179.9, 0.1],
        [179.9, 0.1],
      ],
    ],
    [
      'a line, without area',
      [
        [0, 0],
        [0.1, 0.1],
      ],
    ],
  ])('of %s lies in it', (_, corners) => {
    expect(inside(ringOf(corners))).toBe(true);
  });

  test('of nothing is nothing', () => {
    expect(innerPoint([])).toBeUndefined();
  });
});

describe('stretches', () => {
  test('are merged, common and free as sets are', () => {
    expect(
      mergeIntervals([
        { from: 3, to: 4 },
        { from: 0, to: 1 },
        { from: 1, to: 2 },
        { from: 3.5, to: 3.6 },
      ]),
    ).toEqual([
      { from: 0, to: 2 },
      { from: 3, to: 4 },
    ]);
    expect(
      commonIntervals(
        [
          { from: 0, to: 2 },
          { from: 3, to: 6 },
        ],
        [
          { from: 1, to: 4 },
          { from: 6, to: 7 },
        ],
      ),
    ).toEqual([
      { from: 1, to: 2 },
      { from: 3, to: 4 },
      { from: 6, to: 6 },
    ]);
    expect(
      freeOf(
        [
          { from: 1, to: 2 },
          { from: 4, to: 9 },
        ],
        { from: 0, to: 5 },
      ),
    ).toEqual([
      { from: 0, to: 1 },
      { from: 2, to: 4 },
    ]);
    expect(freeOf([], { from: 0, to: 0 })).toEqual([{ from: 0, to: 0 }]);
    expect(freeOf([{ from: 0, to: 0 }], { from: 0, to: 0 })).toEqual([]);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Steps } from '../../server/src/facts/steps.ts';
import { destination, distance, legPath } from '../../server/src/geo/geodesy.ts';
import { groundOf } from '../../server/src/geo/ground-profile.ts';
import { nearestSurface } from '../../server/src/geo/nearest-surface.ts';
import { intervalsOver } from '../../server/src/geo/quadratic.ts';
import { bulgeOf } from '../../server/src/geo/stretch-height.ts';
import {
  followingGround,
  straightBetween,
  surfaceVerdict,
  surfaceVerdictSteps,
} from '../../server/src/geo/surface-verdict.ts';
import { groundAlong, groundAt } from '../../server/src/geo/terrain-walk.ts';
import { nearestOnTriangle } from '../../server/src/geo/triangle.ts';
import { aboveGround, aboveSea, lonLat, metres } from '../../server/src/units/frames.ts';
import { flatGrid, gridFromRows, surfaceGrid } from '../../server/src/world/small-grid.ts';

const STEP = 1 / 3600;
const EAST = 111_320 * Math.cos((46 * Math.PI) / 180);
const NORTH = 111_170;
const lattice = { west: 7.98, north: 46.02, step: STEP, columns: 145, rows: 145 };
const middle = lonLat(8, 46);

describe('the nearest ground', () => {
  test('over level ground is straight below', () => {
    const search = nearestSurface([flatGrid(lattice, 300)], middle, aboveSea(400), metres(150));
    expect(search.unknown).toBe(false);
    expect(search.nearest?.distance).toBeCloseTo(100, 2);
    expect(distance(search.nearest?.at ?? lonLat(0, 0), middle)).toBeLessThan(0.1);
    expect(search.nearest?.ground).toBeCloseTo(300, 2);
  });

  test('over an inclined plane is the height times the cosine of the slope', () => {
    for (const slope of [0.1, 0.5, 1.2]) {
      const grid = surfaceGrid(lattice, (lon) => 1000 + slope * (lon - 8) * EAST);
      const search = nearestSurface([grid], middle, aboveSea(1110), metres(150));
      expect(search.nearest?.distance).toBeCloseTo(110 / Math.hypot(1, slope), 0);
      // East has its own exact scale; with it the plane is exact to a centimetre.
      const scale = distance(middle, lonLat(8.001, 46)) / 0.001 / EAST;
      expect(Math.abs((search.nearest?.distance ?? 0) - 110 / Math.hypot(1, slope / scale))).toBeLessThan(0.01);
    }
  });

  test('is as near as dense sampling of the same ground finds, and no nearer', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999 }), fc.double({ min: 20, max: 110, noNaN: true }), (seed, height) => {
        const grid = surfaceGrid(
          lattice,
          (lon, lat) => 500 + 30 * Math.sin(seed + lon * 5000) + 25 * Math.cos(lat * 6000 + seed),
        );
        const craft = (groundAt(grid, middle) ?? Number.NaN) + height;
        const search = nearestSurface([grid], middle, aboveSea(craft), metres(200));
        let least = Number.POSITIVE_INFINITY;
        const sample = (east: number, north: number): void => {
          const at = lonLat(8 + east / EAST, 46 + north / NORTH);
          const level = distance(middle, at);
          const ground = groundAt(grid, at) ?? Number.NaN;
          least = Math.min(least, Math.hypot(level, craft - ground + (level * level) / 12_742_000));
        };
        for (let east = -115; east <= 115; east += 5)
          for (let north = -115; north <= 115; north += 5) sample(east, north);
        const found = search.nearest;
        if (found === undefined) throw new Error('nothing found');
        expect(found.distance).toBeLessThan(least + 0.01);
        const level = distance(middle, found.at);
        const there = (groundAt(grid, found.at) ?? Number.NaN) - (level * level) / 12_742_000;
        expect(Math.abs(Math.hypot(level, craft - there) - found.distance)).toBeLessThan(0.03);
      }),
      { seed: 29, numRuns: 30 },
    );
  });

  test('beside a wall is the wall, not the floor', () => {
    const grid = surfaceGrid(lattice, (lon) => (lon > 8 + 2.5 * STEP ? 400 : 0));
    const search = nearestSurface([grid], middle, aboveSea(150), metres(200));
    // The wall rises between the second and third column east, 18 m a column from 43 m on.
    expect(search.nearest?.distance).toBeLessThan(60);
    expect(search.nearest?.at.lon).toBeGreaterThan(8 + STEP);
  });

  test('is unknown where a cell without data could be nearer, and known where it could not', () => {
    const holed = (column: number) =>
      gridFromRows(
        7.98,
        46.02 - 144 * STEP,
        STEP,
        Array.from({ length: 145 }, (_, y) =>
          Array.from({ length: 145 }, (_, x) => (y === 72 && x === column ? Number.NaN : 300)),
        ),
      );
    expect(nearestSurface([holed(74)], middle, aboveSea(400), metres(150)).unknown).toBe(true);
    expect(nearestSurface([holed(90)], middle, aboveSea(400), metres(150)).unknown).toBe(false);
    expect(nearestSurface([flatGrid(lattice, 0)], lonLat(9, 46), aboveSea(10), metres(50))).toEqual({
      nearest: undefined,
      unknown: true,
    });
  });
});

describe('the nearest ground of several rasters', () => {
  const south = flatGrid({ west: 7.98, north: 46, step: STEP, columns: 145, rows: 73 }, 300);
  const north = flatGrid({ west: 7.98 - 0.3 * STEP, north: 46.02, step: STEP * 0.9, columns: 161, rows: 81 }, 310);

  test('is known across the border of two that touch', () => {
    const at = destination(middle, 180, 30);
    expect(nearestSurface([south], at, aboveSea(400), metres(150)).unknown).toBe(true);
    const both = nearestSurface([south, north], at, aboveSea(400), metres(150));
    expect(both.unknown).toBe(false);
    expect(both.nearest?.distance).toBeCloseTo(Math.hypot(30, 90), 1);
    const other = nearestSurface([north, south], at, aboveSea(400), metres(150));
    expect(other.nearest?.distance).toBeCloseTo(both.nearest?.distance ?? 0, 1);
  });

  test('is that of the better one where both have data', () => {
    const coarse = flatGrid({ west: 7.9, north: 46.1, step: 0.01, columns: 21, rows: 21 }, 390);
    const at = destination(middle, 0, 500);
    expect(nearestSurface([north, coarse], at, aboveSea(400), metres(150)).nearest?.distance).toBeCloseTo(90, 2);
  });
});

describe('the nearest place of a triangle', () => {
  test('is below it, on a side, or at a corner', () => {
    expect(nearestOnTriangle([-1, -1, 2], [3, -1, 2], [-1, 3, 2])).toEqual([0, 0, 2]);
    expect(nearestOnTriangle([1, -1, 2], [1, 1, 2], [5, 0, 2])).toEqual([1, 0, 2]);
    expect(nearestOnTriangle([1, 1, 2], [2, 1, 2], [1, 2, 2])).toEqual([1, 1, 2]);
    expect(nearestOnTriangle([1, 1, 1], [1, 1, 1], [1, 1, 1])).toEqual([1, 1, 1]);
  });
});

describe('the verdict on a leg', () => {
  const limit = metres(120);
  const verdictOf = (
    grid: ReturnType<typeof flatGrid>,
    path: ReturnType<typeof legPath>,
    start: number,
    end: number,
  ) => {
    const over = intervalsOver(
      groundAlong(grid, path),
      aboveSea(start),
      aboveSea(end),
      path.length,
      aboveGround(limit),
    );
    return surfaceVerdict([grid], path, aboveSea(start), aboveSea(end), over, limit);
  };
  const across = legPath(destination(middle, 270, 800), destination(middle, 90, 800));

  test('over level ground is that of the height', () => {
    const grid = flatGrid(lattice, 300);
    expect(verdictOf(grid, across, 419, 419).kind).toBe('within');
    expect(verdictOf(grid, across, 425, 425).kind).toBe('over');
    const climbing = verdictOf(grid, across, 400, 430);
    expect(climbing.kind).toBe('over');
    expect(climbing.kind === 'over' && climbing.distance).toBeGreaterThan(120);
  });

  test('over a steep slope allows more height than over a plain, and ends where the slope does', () => {
    // Slope of one half: 120 m from the surface are 134.2 m above the ground below.
    const slope = surfaceGrid(lattice, (_, lat) => 1000 + 0.5 * (lat - 46) * NORTH);
    expect(verdictOf(slope, across, 1133, 1133).kind).toBe('within');
    expect(verdictOf(slope, across, 1136, 1136).kind).toBe('over');
    const bench = surfaceGrid(lattice, (lon, lat) => (lon > 8.004 ? 1000 : 1000 + 0.5 * (lat - 46) * NORTH));
    const verdict = verdictOf(bench, across, 1133, 1133);
    expect(verdict.kind).toBe('over');
    expect(verdict.kind === 'over' && verdict.at.lon).toBeGreaterThan(8.003);
  });

  test('is proven half a millimetre below the limit along a slope', () => {
    const slope = surfaceGrid(lattice, (_, lat) => 1000 + 0.5 * (lat - 46) * NORTH);
    let low = 1100;
    let high = 1200;
    for (let i = 0; i < 60; i++) {
      const between = (low + high) / 2;
      const search = nearestSurface([slope], middle, aboveSea(between), metres(200));
      if ((search.nearest?.distance ?? 0) < 119.9995) low = between;
      else high = between;
    }
    const short = legPath(middle, destination(middle, 90, 30));
    expect(verdictOf(slope, short, low, low).kind).toBe('within');
    expect(verdictOf(slope, short, low + 0.01, low + 0.01).kind).toBe('over');
  });

  test('looks at the ground of a long leg along a slope a few hundred times, however near the limit is', () => {
    // The equator is a geodesic, so that the leg keeps its distance from a slope that rises to the north: 120 m from a slope
    // of one half are 134.164 m above the ground below. A degree of latitude there is 110574 m.
    const long = { west: 7.85, north: 0.01, step: STEP, columns: 1100, rows: 73 };
    const slope = surfaceGrid(long, (_, lat) => 1000 + 0.5 * lat * 110_574);
    let asked = 0;
    const counted = {
      ...slope,
      toGrid: (at: Parameters<typeof slope.toGrid>[0]) => {
        asked += 1;
        return slope.toGrid(at);
      },
    };
    const path = legPath(lonLat(7.91, 0), lonLat(8.09, 0));
    const level = aboveSea(1134.155);
    const verdict = surfaceVerdict([counted], path, level, level, [{ from: 0, to: path.length }], limit);
    expect(verdict.kind).toBe('within');
    // Five times for each look, and the walks. Steps as short as the distance from the limit would ask a million times.
    expect(asked).toBeLessThan(5000);
    const over = aboveSea(1134.18);
    expect(surfaceVerdict([slope], path, over, over, [{ from: 0, to: path.length }], limit).kind).toBe('over');
  });

  test('agrees with dense sampling over rough ground, whichever it is', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 9999 }),
        fc.double({ min: 95, max: 150, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (seed, height, climb) => {
          const grid = surfaceGrid(
            lattice,
            (lon, lat) =>
              500 + 0.4 * (lat - 46) * NORTH + 12 * Math.sin(seed + lon * 4000) + 9 * Math.cos(lat * 5000 + seed),
          );
          const path = legPath(destination(middle, 200 + (seed % 90), 250), destination(middle, seed % 90, 250));
          const [start, end] = [500 + height, 500 + height + climb];
          const over = intervalsOver(
            groundAlong(grid, path),
            aboveSea(start),
            aboveSea(end),
            path.length,
            aboveGround(limit),
          );
          const verdict = surfaceVerdict([grid], path, aboveSea(start), aboveSea(end), over, limit);
          kinds.add(verdict.kind);
          let greatest = 0;
          for (const { from, to } of over) {
            for (let i = 0; i <= 60; i++) {
              const along = from + ((to - from) * i) / 60;
              const altitude = aboveSea(start + ((end - start) * along) / path.length);
              const { nearest } = nearestSurface([grid], path.at(along), altitude, metres(400));
              greatest = Math.max(greatest, nearest?.distance ?? 400);
            }
          }
          // The search itself is exact to a centimetre.
          if (verdict.kind === 'within') expect(greatest).toBeLessThan(limit + 0.01);
          if (verdict.kind === 'at-the-limit') expect(greatest).toBeLessThan(limit + 0.06);
          if (verdict.kind === 'over') expect(verdict.distance).toBeGreaterThan(limit);
        },
      ),
      { seed: 31, numRuns: 120 },
    );
    expect([...kinds].sort()).toEqual(expect.arrayContaining(['over', 'within']));
  });

  test('is undecided, and says from where on, where a leg is so long that it is given up', () => {
    const level = flatGrid({ west: -15, north: 0.02, step: 0.01, columns: 3000, rows: 5 }, 300);
    const path = legPath(lonLat(-14, 0), lonLat(14, 0));
    const stretches = [{ from: 0, to: path.length }];
    const verdict = surfaceVerdict([level], path, aboveSea(419), aboveSea(419), stretches, limit);
    expect(verdict.kind).toBe('undecided');
    expect(verdict.kind === 'undecided' && verdict.along).toBeGreaterThan(1_000_000);
  });

  test('is unknown beside ground without data', () => {
    const grid = gridFromRows(
      7.98,
      46.02 - 144 * STEP,
      STEP,
      Array.from({ length: 145 }, (_, y) =>
        Array.from({ length: 145 }, (_, x) => (y === 75 && x === 72 ? Number.NaN : 1000)),
      ),
    );
    expect(verdictOf(grid, across, 1125, 1125).kind).toBe('over');
    const near = legPath(middle, destination(middle, 90, 10));
    expect(verdictOf(grid, near, 1125, 1125).kind).toBe('unknown');
  });

  test('of a climb on the spot is that of its upper end', () => {
    const spot = legPath(middle, middle);
    expect(verdictOf(flatGrid(lattice, 300), spot, 310, 419).kind).toBe('within');
    expect(verdictOf(flatGrid(lattice, 300), spot, 310, 430).kind).toBe('over');
  });

  test('of a long leg that hugs the limit over rough ground comes in many steps, each of a few looks', () => {
    // Twenty kilometres along the equator, along a slope with noise of eight metres, just below where it would be 120 m from the ground.
    const long = { west: 7.88, north: 0.01, step: STEP, columns: 900, rows: 73 };
    const noise = (i: number): number => (((Math.sin(i * 12.9898) * 43_758.5453) % 1) + 1) % 1;
    const rough = surfaceGrid(
      long,
      (lon, lat) => 1000 + 0.5 * lat * 110_574 + 8 * noise(Math.round(lon * 3600) + 7919 * Math.round(lat * 3600)),
    );
    let asked = 0;
    const counted = {
      ...rough,
      toGrid: (at: Parameters<typeof rough.toGrid>[0]) => {
        asked += 1;
        return rough.toGrid(at);
      },
    };
    const path = legPath(lonLat(7.91, 0), lonLat(8.09, 0));
    expect(path.length).toBeGreaterThan(20_000);
    const profile = groundAlong(rough, path);
    const craft = straightBetween(aboveSea(1134), aboveSea(1134), path.length);
    const over = intervalsOver(profile, aboveSea(1134), aboveSea(1134), path.length, aboveGround(limit));
    const work = surfaceVerdictSteps([counted], path, craft, over, limit);
    let steps = 0;
    let most = 0;
    for (;;) {
      const before = asked;
      const step = work.next();
      most = Math.max(most, asked - before);
      if (step.done === true) break;
      steps += 1;
    }
    // Five times for each look, and as often again for a walk over the ground between two of them. All at once it was
    // hundreds of looks and more in one step.
    expect(most).toBeLessThan(150);
    expect(steps).toBeGreaterThan(40);
  });

  test('tells the worst place, not the first that is over', () => {
    // A bowl: the middle of the leg is 40 m farther from the ground than its ends.
    const bowl = surfaceGrid(lattice, (lon) => 1000 - 40 * Math.max(0, 1 - Math.abs(lon - 8) / 0.004));
    const verdict = verdictOf(bowl, across, 1125, 1125);
    if (verdict.kind !== 'over') throw new Error(verdict.kind);
    // The slope is 40 m in 310 m: 165 m times the cosine of 7.4 degrees.
    expect(Math.abs(verdict.distance - 165 * Math.cos(Math.atan(40 / (0.004 * EAST))))).toBeLessThan(0.6);
    expect(distance(verdict.at, middle)).toBeLessThan(20);
  });
});

describe('the verdict on a leg that follows the ground', () => {
  const limit = metres(120);
  const verdictOf = (grid: ReturnType<typeof flatGrid>, path: ReturnType<typeof legPath>, height: number) =>
    new Steps(
      surfaceVerdictSteps(
        [grid],
        path,
        followingGround(groundAlong(grid, path), height),
        [{ from: 0, to: path.length }],
        limit,
      ),
    ).now();
  const across = legPath(destination(middle, 250, 800), destination(middle, 70, 800));

  test('over level ground is that of the height', () => {
    expect(verdictOf(flatGrid(lattice, 300), across, 119).kind).toBe('within');
    expect(verdictOf(flatGrid(lattice, 300), across, 121).kind).toBe('over');
  });

  test('along and up a slope is that of the height times the cosine', () => {
    const slope = surfaceGrid(lattice, (_, lat) => 1000 + 0.5 * (lat - 46) * NORTH);
    expect(verdictOf(slope, across, 134).kind).toBe('within');
    expect(verdictOf(slope, across, 134.4).kind).toBe('over');
  });

  test('agrees with dense sampling over rough ground, whichever it is', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 9999 }), fc.double({ min: 118, max: 150, noNaN: true }), (seed, height) => {
        const grid = surfaceGrid(
          lattice,
          (lon, lat) =>
            500 + 0.5 * (lat - 46) * NORTH + 12 * Math.sin(seed + lon * 4000) + 9 * Math.cos(lat * 5000 + seed),
        );
        const path = legPath(destination(middle, 200 + (seed % 90), 200), destination(middle, seed % 90, 200));
        const verdict = verdictOf(grid, path, height);
        kinds.add(verdict.kind);
        let greatest = 0;
        for (let i = 0; i <= 80; i++) {
          const at = path.at((path.length * i) / 80);
          const craft = aboveSea((groundAt(grid, at) ?? Number.NaN) + height);
          greatest = Math.max(greatest, nearestSurface([grid], at, craft, metres(400)).nearest?.distance ?? 400);
        }
        if (verdict.kind === 'within') expect(greatest).toBeLessThan(limit + 0.01);
        if (verdict.kind === 'at-the-limit') expect(greatest).toBeLessThan(limit + 0.06);
        if (verdict.kind === 'over') {
          expect(verdict.distance).toBeGreaterThan(limit);
          // The worst, to the half metre of the search and what lies between the samples.
          expect(verdict.distance).toBeGreaterThan(greatest - 0.6);
        }
      }),
      { seed: 37, numRuns: 80 },
    );
    expect([...kinds].sort()).toEqual(expect.arrayContaining(['over', 'within']));
  });

  test('is unknown where the ground that it follows is', () => {
    const holed = gridFromRows(
      7.98,
      46.02 - 144 * STEP,
      STEP,
      Array.from({ length: 145 }, () => Array.from({ length: 145 }, (_, x) => (x === 72 ? Number.NaN : 1000))),
    );
    expect(verdictOf(holed, across, 119).kind).toBe('unknown');
  });
});

test('the bulge of the ground is never less than a sample above the chord, and no more than a step can hide', () => {
  const grid = surfaceGrid(lattice, (lon, lat) => 400 + 60 * Math.sin(lon * 2500) * Math.cos(lat * 3000));
  const path = legPath(destination(middle, 215, 900), destination(middle, 35, 900));
  const profile = groundAlong(grid, path);
  for (const [from, to] of [
    [0, path.length],
    [210, 640],
    [333, 333],
    [900.5, 1234.25],
  ] as const) {
    const [start, end] = [groundOf(profile, from), groundOf(profile, to)];
    let sampled = 0;
    const count = 10_000;
    for (let i = 0; i <= count; i++) {
      const share = i / count;
      sampled = Math.max(sampled, groundOf(profile, from + (to - from) * share) - start - (end - start) * share);
    }
    const bulge = bulgeOf(profile, { from, to });
    expect(bulge).toBeGreaterThanOrEqual(sampled - 1e-9);
    expect(bulge - sampled).toBeLessThanOrEqual((4 * (to - from)) / count);
  }
});

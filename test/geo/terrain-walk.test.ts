import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { destination, legPath } from '../../server/src/geo/geodesy.ts';
import { groundOf, mergeProfiles } from '../../server/src/geo/ground-profile.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { heightOverGround, intervalsOver, intervalsUnder } from '../../server/src/geo/quadratic.ts';
import { groundAlong, groundAt } from '../../server/src/geo/terrain-walk.ts';
import { aboveGround, aboveSea, type LonLat, lonLat, metres } from '../../server/src/units/frames.ts';
import { flatGrid, gridFromRows, surfaceGrid } from '../../server/src/world/small-grid.ts';

const STEP = 1 / 3600;
/** Metres of one step of latitude; of longitude it is less. */
const CELL = STEP * 111_320;

/** Bilinear ground at a place, written here on its own: no code of the walk. */
const groundByHand = (grid: HeightGrid, at: LonLat): number => {
  const { x, y } = grid.toGrid(at);
  const column = Math.max(0, Math.min(Math.floor(x), grid.columns - 2));
  const row = Math.max(0, Math.min(Math.floor(y), grid.rows - 2));
  const height = (i: number, j: number): number => grid.heights[(row + j) * grid.columns + column + i] ?? Number.NaN;
  const p = x - column;
  const q = y - row;
  const north = height(0, 0) * (1 - p) + height(1, 0) * p;
  const south = height(0, 1) * (1 - p) + height(1, 1) * p;
  return north * (1 - q) + south * q;
};

/** The steepest slope that the surface of a grid can have, in metres per metre, from the differences of neighbours. */
const steepest = (grid: HeightGrid, latitude: number): number => {
  let most = 0;
  const east = CELL * Math.cos((latitude * Math.PI) / 180);
  for (let row = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++) {
      const here = grid.heights[row * grid.columns + column] ?? 0;
      const right = column + 1 < grid.columns ? (grid.heights[row * grid.columns + column + 1] ?? 0) : here;
      const below = row + 1 < grid.rows ? (grid.heights[(row + 1) * grid.columns + column] ?? 0) : here;
      most = Math.max(most, Math.hypot((right - here) / east, 0), Math.abs(below - here) / CELL);
    }
  }
  return most * Math.SQRT2;
};

const randomGrid = (seed: number, west: number, south: number, size = 40, relief = 60): HeightGrid => {
  let state = seed >>> 0;
  const next = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  const rows = Array.from({ length: size }, () => Array.from({ length: size }, () => 400 + relief * next()));
  return gridFromRows(west, south, STEP, rows);
};

/** Places some centimetres clear of the raster's edge: a geodesic between two places on the edge bulges out of it. */
const share = fc.double({ min: 0.0001, max: 0.9999, noNaN: true });
const placeIn = (west: number, south: number, span: number) =>
  fc.tuple(share, share).map(([u, v]) => {
    const lon = west + u * span;
    return lonLat(lon >= 180 ? lon - 360 : lon, south + v * span);
  });

describe('the ground along a leg', () => {
  test.each([
    ['in the middle latitudes', -120.5, 47.5],
    ['far north', 20, 69.9],
    ['across the 180° meridian', 180 - 20 * STEP, -17],
    ['across the equator and the zero meridian', -20 * STEP, -20 * STEP],
  ])('is the bilinear surface at every place, %s', (_, west, south) => {
    const span = 39 * STEP;
    fc.assert(
      fc.property(fc.integer(), placeIn(west, south, span), placeIn(west, south, span), (seed, from, to) => {
        const grid = randomGrid(seed, west, south);
        const path = legPath(from, to);
        const profile = groundAlong(grid, path);
        expect(profile.along[0]).toBe(0);
        expect(profile.along[profile.pieces]).toBe(path.length);
        const slope = steepest(grid, south);
        for (let i = 0; i <= 300; i++) {
          const along = (path.length * i) / 300;
          // The path's place in the raster is kept within a centimetre.
          expect(Math.abs(groundOf(profile, along) - groundByHand(grid, path.at(along)))).toBeLessThan(
            0.01 * slope + 1e-6,
          );
        }
      }),
      { seed: 20_261_125, numRuns: 60 },
    );
  });

  test('never misses a height that dense sampling finds, and is reached where it says', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        placeIn(8, 46, 39 * STEP),
        placeIn(8, 46, 39 * STEP),
        fc.double({ min: 450, max: 700, noNaN: true }),
        fc.double({ min: 450, max: 700, noNaN: true }),
        (seed, from, to, start, end) => {
          const grid = randomGrid(seed, 8, 46);
          const path = legPath(from, to);
          fc.pre(path.length > 1);
          const profile = groundAlong(grid, path);
          const { least, greatest, gaps } = heightOverGround(profile, aboveSea(start), aboveSea(end), path.length);
          expect(gaps).toEqual([]);
          if (least === undefined || greatest === undefined) throw new Error('no height at all');
          const heightAt = (along: number): number =>
            start + ((end - start) * along) / Math.max(path.length, 1e-9) - groundByHand(grid, path.at(along));
          const near = 0.01 * (steepest(grid, 46) + 1);
          for (let i = 0; i <= 2000; i++) {
            const height = heightAt((path.length * i) / 2000);
            expect(height).toBeLessThan(greatest.value + near);
            expect(height).toBeGreaterThan(least.value - near);
          }
          expect(Math.abs(heightAt(greatest.along) - greatest.value)).toBeLessThan(near);
          expect(Math.abs(heightAt(least.along) - least.value)).toBeLessThan(near);
        },
      ),
      { seed: 7, numRuns: 60 },
    );
  });

  test('stays within a centimetre on a leg of 20 km at 60° north', () => {
    const lattice = { west: 10, north: 60.3, step: 1 / 1200, columns: 601, rows: 481 };
    const grid = surfaceGrid(lattice, (lon, lat) => 300 + 8000 * (lat - 60.1) + 200 * Math.sin(lon * 400));
    const from = lonLat(10.05, 60.1);
    const path = legPath(from, destination(from, 88, 20_000));
    const profile = groundAlong(grid, path);
    for (let i = 0; i <= 5000; i++) {
      const along = (path.length * i) / 5000;
      expect(Math.abs(groundOf(profile, along) - groundByHand(grid, path.at(along)))).toBeLessThan(0.02);
    }
  });

  test('follows rows and columns of nodes and the edges of the raster', () => {
    const grid = randomGrid(3, 0, 0, 5);
    for (const line of [0, 2, 4]) {
      for (const path of [
        legPath(lonLat(line * STEP, 0), lonLat(line * STEP, 4 * STEP)),
        legPath(lonLat(0, line * STEP), lonLat(4 * STEP, line * STEP)),
      ]) {
        const profile = groundAlong(grid, path);
        for (let i = 0; i <= 40; i++) {
          const along = (path.length * i) / 40;
          expect(Math.abs(groundOf(profile, along) - groundByHand(grid, path.at(along)))).toBeLessThan(0.02);
        }
      }
    }
  });

  test('passes through nodes on a diagonal with as many pieces as cells', () => {
    const grid = gridFromRows(0, 0, STEP, [
      [3, 3, 3],
      [3, 7, 3],
      [3, 3, 3],
    ]);
    const path = legPath(lonLat(0, 0), lonLat(2 * STEP, 2 * STEP));
    const { greatest, least } = heightOverGround(groundAlong(grid, path), aboveSea(10), aboveSea(10), path.length);
    expect(least?.value).toBeCloseTo(3, 6);
    expect(least?.along).toBeCloseTo(path.length / 2, 2);
    expect(greatest?.value).toBeCloseTo(7, 6);
  });

  test('keeps its centimetre in a raster whose rows and columns are curved and turned', () => {
    // A sinusoidal projection (x = longitude times the cosine of the latitude) far from its middle, turned by 20°.
    const [c, s] = [Math.cos(0.35), Math.sin(0.35)];
    const plane = ({ lon, lat }: LonLat): readonly [number, number] => [
      (lon - 12) * Math.cos((lat * Math.PI) / 180) * 111_320,
      lat * 111_320,
    ];
    const [x0, y0] = plane(lonLat(30, 55));
    const cell = 50;
    const grid: HeightGrid = {
      columns: 800,
      rows: 800,
      heights: Float64Array.from({ length: 640_000 }, (_, i) => 300 + 20 * Math.sin(i * 0.7) + ((i % 800) % 13)),
      toGrid: (at) => {
        const [x, y] = plane(at);
        const [east, north] = [x - x0, y - y0];
        return { x: 400 + (c * east + s * north) / cell, y: 400 + (s * east - c * north) / cell };
      },
      cellMetres: cell,
      errorMetres: 0,
    };
    for (let bearing = 0; bearing < 360; bearing += 37) {
      const path = legPath(lonLat(30, 55), destination(lonLat(30, 55), bearing, 15_000));
      const profile = groundAlong(grid, path);
      for (let i = 0; i <= 3000; i++) {
        const along = Math.min(path.length, (path.length * i) / 3000);
        // Slopes are below 60 m in a cell of 50 m.
        expect(Math.abs(groundOf(profile, along) - groundByHand(grid, path.at(along)))).toBeLessThan(0.02);
      }
    }
  });

  test('of a leg over the pole is known where the raster is and ends', () => {
    const grid = flatGrid({ west: -180, north: 90, step: 0.5, columns: 721, rows: 20 }, 5);
    const path = legPath(lonLat(10, 89.99), lonLat(-170, 89.99));
    const { greatest } = heightOverGround(groundAlong(grid, path), aboveSea(50), aboveSea(50), path.length);
    expect(greatest?.value).toBeCloseTo(45, 9);
  });

  test('of a leg without length is the ground of its place', () => {
    const grid = randomGrid(5, 30, 10);
    const at = lonLat(30.004, 10.003);
    const path = legPath(at, at);
    const profile = groundAlong(grid, path);
    expect([...profile.along]).toEqual([0, 0]);
    expect(profile.a[0]).toBeCloseTo(groundByHand(grid, at), 9);
    expect(groundAt(grid, at)).toBeCloseTo(groundByHand(grid, at), 9);
    const climb = heightOverGround(profile, aboveSea(500), aboveSea(560), path.length);
    expect((climb.greatest?.value ?? 0) - (climb.least?.value ?? 0)).toBeCloseTo(60, 9);
  });

  test('is unknown outside the raster and around nodes without data, and nowhere else', () => {
    const grid = gridFromRows(0, 0, STEP, [
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1, 1],
      [1, 1, Number.NaN, 1, 1],
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1, 1],
    ]);
    const path = legPath(lonLat(-2 * STEP, 1.5 * STEP), lonLat(6 * STEP, 1.5 * STEP));
    const { gaps } = heightOverGround(groundAlong(grid, path), aboveSea(9), aboveSea(9), path.length);
    const cells = gaps.map(({ from, to }) => [(from / path.length) * 8 - 2, (to / path.length) * 8 - 2]);
    expect(cells).toHaveLength(3);
    const expected = [
      [-2, 0],
      [1, 3],
      [4, 6],
    ];
    cells.forEach((cell, i) => {
      expect(cell[0]).toBeCloseTo(expected[i]?.[0] ?? 0, 3);
      expect(cell[1]).toBeCloseTo(expected[i]?.[1] ?? 0, 3);
    });
    // On the border of the empty cells the neighbours still answer.
    const border = legPath(lonLat(0, 1 * STEP), lonLat(4 * STEP, 1 * STEP));
    expect(heightOverGround(groundAlong(grid, border), aboveSea(9), aboveSea(9), border.length).gaps).toEqual([]);
    expect(groundAt(grid, lonLat(2 * STEP, 2 * STEP))).toBeUndefined();
    expect(groundAt(grid, lonLat(5 * STEP, 2 * STEP))).toBeUndefined();
    expect(groundAt(grid, lonLat(4 * STEP, 4 * STEP))).toBe(1);
  });

  test('reads the value that a raster uses for no data as no data', () => {
    const heights = Int16Array.from([5, 5, -32_768, 5, 5, 5]);
    const grid = {
      ...gridFromRows(0, 0, STEP, [
        [0, 0, 0],
        [0, 0, 0],
      ]),
      heights,
      noData: -32_768,
    };
    expect(groundAt(grid, lonLat(0.5 * STEP, 0.5 * STEP))).toBe(5);
    expect(groundAt(grid, lonLat(1.5 * STEP, 0.5 * STEP))).toBeUndefined();
  });

  test('of a raster on the other side of the earth is unknown, and told in one piece', () => {
    const grid = flatGrid({ west: 170, north: 5, step: STEP, columns: 20, rows: 20 }, 3);
    const profile = groundAlong(grid, legPath(lonLat(-9.95, 4), lonLat(-9.85, 4)));
    expect([...profile.a]).toEqual([Number.NaN]);
  });

  test('ends in bounded time where a projection gives no numbers or jumps about', () => {
    const flat = flatGrid({ west: 0, north: 1, step: STEP, columns: 3, rows: 3 }, 3);
    const path = legPath(lonLat(0, 0), lonLat(0.2, 0.2));
    const none = { ...flat, toGrid: () => ({ x: Number.NaN, y: 0 }) };
    expect([...groundAlong(none, path).a]).toEqual([Number.NaN]);
    const wild = { ...flat, toGrid: (at: LonLat) => ({ x: (at.lon * 1e9) % 7, y: (at.lat * 1e9) % 5 }) };
    expect(groundAlong(wild, path).pieces).toBeGreaterThan(0);
  });

  test('is taken from the next raster where the first has none', () => {
    const fine = gridFromRows(0, 0, STEP, [
      [20, 20, 20],
      [20, 20, 20],
    ]);
    const coarse = surfaceGrid({ west: -0.01, north: 0.01, step: 0.005, columns: 9, rows: 5 }, (lon) => 10 + lon * 100);
    const path = legPath(lonLat(-0.005, 0.5 * STEP), lonLat(0.01, 0.5 * STEP));
    const merged = mergeProfiles([groundAlong(fine, path), groundAlong(coarse, path)]);
    const alone = groundAlong(coarse, path);
    for (let i = 0; i <= 200; i++) {
      const along = (path.length * i) / 200;
      const { lon } = path.at(along);
      const inFine = lon > 0 && lon < 2 * STEP;
      expect(groundOf(merged, along)).toBeCloseTo(inFine ? 20 : groundOf(alone, along), 6);
    }
  });
});

describe('surfaces with a known extremum', () => {
  const lattice = { west: 6.99, north: 45.01, step: STEP / 2, columns: 145, rows: 145 };
  const middle = lonLat(7, 45);
  const east = 111_320 * Math.cos((45 * Math.PI) / 180);

  test('over a plane the height changes evenly and is extreme at the ends', () => {
    const grid = surfaceGrid(lattice, (lon, lat) => 500 + 2000 * (lon - 7) - 3000 * (lat - 45));
    const path = legPath(lonLat(6.995, 44.995), lonLat(7.006, 45.004));
    const { least, greatest } = heightOverGround(groundAlong(grid, path), aboveSea(600), aboveSea(640), path.length);
    expect(greatest?.along).toBeCloseTo(path.length, 3);
    expect(greatest?.value).toBeCloseTo(640 - (500 + 2000 * 0.006 - 3000 * 0.004), 3);
    expect(least?.along).toBe(0);
    expect(least?.value).toBeCloseTo(600 - (500 - 2000 * 0.005 + 3000 * 0.005), 3);
  });

  test('over a round hill the least height is over its top, between the ends', () => {
    // z = 800 - r² / 4000: bilinear cells of 11 m by 15 m leave it by at most (11² + 15²) / 8 / 2000 m = 0.022 m.
    const grid = surfaceGrid(lattice, (lon, lat) => {
      const x = (lon - 7) * east;
      const y = (lat - 45) * 111_320;
      return 800 - (x * x + y * y) / 4000;
    });
    const path = legPath(destination(middle, 250, 700), destination(middle, 70, 500));
    const { least } = heightOverGround(groundAlong(grid, path), aboveSea(860), aboveSea(860), path.length);
    expect(least?.value).toBeGreaterThan(60 - 0.001);
    expect(least?.value).toBeLessThan(60 + 0.05);
    expect(least?.along).toBeCloseTo(700, -2);
  });

  test('over a saddle, one bilinear cell, the greatest height is the vertex of the parabola', () => {
    // Heights 0, 10 / 10, 0 at the corners of one cell: along the diagonal the ground is 20 u (1 - u), highest at u = 1/2.
    const grid = gridFromRows(0, 0, STEP, [
      [10, 0],
      [0, 10],
    ]);
    const path = legPath(lonLat(0, 0), lonLat(STEP, STEP));
    const level = aboveSea(20);
    const { least, greatest } = heightOverGround(groundAlong(grid, path), level, level, path.length);
    expect(greatest?.value).toBeCloseTo(20, 4);
    expect(least?.value).toBeCloseTo(20 - 5, 6);
    expect(least?.along).toBeCloseTo(path.length / 2, 2);
  });
});

describe('stretches beyond a limit', () => {
  test('agree with sampling on random ground, over and under', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        placeIn(-71, 44, 39 * STEP),
        placeIn(-71, 44, 39 * STEP),
        fc.double({ min: 20, max: 120, noNaN: true }),
        (seed, from, to, limit) => {
          const grid = randomGrid(seed, -71, 44);
          const path = legPath(from, to);
          fc.pre(path.length > 1);
          const profile = groundAlong(grid, path);
          const [start, end] = [aboveSea(480), aboveSea(530)];
          const over = intervalsOver(profile, start, end, path.length, aboveGround(limit));
          const under = intervalsUnder(profile, start, end, path.length, aboveGround(limit));
          const holds = (list: readonly { from: number; to: number }[], at: number): boolean =>
            list.some((stretch) => stretch.from <= at && at <= stretch.to);
          for (let i = 0; i <= 500; i++) {
            const along = Math.min(path.length, (path.length * i) / 500);
            const height = 480 + (50 * along) / Math.max(path.length, 1e-9) - groundOf(profile, along);
            if (height > limit + 1e-6) expect(holds(over, along)).toBe(true);
            if (height < limit - 1e-6) expect(holds(under, along)).toBe(true);
            if (height > limit + 1e-6) expect(holds(under, along)).toBe(false);
            if (height < limit - 1e-6) expect(holds(over, along)).toBe(false);
          }
          for (const stretch of over) expect(stretch.furthest).toBeGreaterThan(limit);
          for (const stretch of under) expect(stretch.furthest).toBeLessThan(limit);
          over.forEach((stretch, i) => {
            const next = over[i + 1];
            if (next !== undefined) expect(next.from).toBeGreaterThan(stretch.to);
          });
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  test('of level flight over level ground at the limit are none', () => {
    const grid = flatGrid({ west: 0, north: 1, step: 0.1, columns: 11, rows: 11 }, 100);
    const path = legPath(lonLat(0.2, 0.2), lonLat(0.3, 0.3));
    const profile = groundAlong(grid, path);
    expect(intervalsOver(profile, aboveSea(220), aboveSea(220), path.length, aboveGround(120))).toEqual([]);
    expect(intervalsOver(profile, aboveSea(220.5), aboveSea(220.5), path.length, aboveGround(120))).toHaveLength(1);
  });

  test('of a climb on the spot are the spot itself', () => {
    const grid = flatGrid({ west: 0, north: 1, step: 0.1, columns: 11, rows: 11 }, 100);
    const path = legPath(lonLat(0.2, 0.2), lonLat(0.2, 0.2));
    const profile = groundAlong(grid, path);
    const over = intervalsOver(profile, aboveSea(110), aboveSea(230), metres(0), aboveGround(120));
    expect(over).toMatchObject([{ from: 0, to: 0, furthest: 130 }]);
    expect(intervalsUnder(profile, aboveSea(110), aboveSea(230), metres(0), aboveGround(5))).toEqual([]);
  });
});

describe('laws', () => {
  test('cutting a leg in two changes no height', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        placeIn(5, 52, 39 * STEP),
        placeIn(5, 52, 39 * STEP),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (seed, from, to, share) => {
          const grid = randomGrid(seed, 5, 52);
          const path = legPath(from, to);
          fc.pre(path.length > 1);
          const cutAt = path.length * share;
          const middle = path.at(cutAt);
          const first = legPath(from, middle);
          const second = legPath(middle, to);
          const [start, end] = [500, 640];
          const cut = start + (end - start) * share;
          const whole = heightOverGround(groundAlong(grid, path), aboveSea(start), aboveSea(end), path.length);
          const ones = heightOverGround(groundAlong(grid, first), aboveSea(start), aboveSea(cut), first.length);
          const others = heightOverGround(groundAlong(grid, second), aboveSea(cut), aboveSea(end), second.length);
          const near = 0.01 * (steepest(grid, 52) + 1);
          const greatest = Math.max(ones.greatest?.value ?? Number.NaN, others.greatest?.value ?? Number.NaN);
          const least = Math.min(ones.least?.value ?? Number.NaN, others.least?.value ?? Number.NaN);
          expect(Math.abs(greatest - (whole.greatest?.value ?? Number.NaN))).toBeLessThan(near);
          expect(Math.abs(least - (whole.least?.value ?? Number.NaN))).toBeLessThan(near);
        },
      ),
      { seed: 5, numRuns: 80 },
    );
  });

  test('moving ground and leg along the parallel, also across the 180° meridian, changes nothing', () => {
    const size = 39 * STEP;
    fc.assert(
      fc.property(
        fc.integer(),
        placeIn(0, 40, size),
        placeIn(0, 40, size),
        fc.constantFrom(180 - size / 2, -180, 90, -180 - size / 3 + 360),
        (seed, from, to, shift) => {
          const moved = ({ lon, lat }: LonLat): LonLat => {
            const east = lon + shift;
            return lonLat(east >= 180 ? east - 360 : east, lat);
          };
          const here = legPath(from, to);
          const there = legPath(moved(from), moved(to));
          const level = aboveSea(600);
          const one = heightOverGround(groundAlong(randomGrid(seed, 0, 40), here), level, level, here.length);
          const other = heightOverGround(groundAlong(randomGrid(seed, shift, 40), there), level, level, there.length);
          expect(other.greatest?.value).toBeCloseTo(one.greatest?.value ?? Number.NaN, 2);
          expect(other.least?.value).toBeCloseTo(one.least?.value ?? Number.NaN, 2);
          expect(other.gaps.length).toBe(one.gaps.length);
        },
      ),
      { seed: 13, numRuns: 60 },
    );
  });
});

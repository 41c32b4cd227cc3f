import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { groundWithin } from '../../server/src/geo/ground-range.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { insideShape } from '../../server/src/geo/shape.ts';
import { groundAt } from '../../server/src/geo/terrain-walk.ts';
import { type LonLat, lonLat } from '../../server/src/units/frames.ts';
import { flatGrid, gridFromRows, surfaceGrid } from '../../server/src/world/small-grid.ts';
import { terrainOf } from '../../server/src/world/terrain-of-grids.ts';

const STEP = 1 / 3600;

const star = (lon: number, lat: number, spokes: readonly number[]): readonly LonLat[] =>
  spokes.map((spoke, i) => {
    const turn = (2 * Math.PI * i) / spokes.length;
    return lonLat(lon + spoke * Math.cos(turn), lat + spoke * Math.sin(turn));
  });

const rough = (west: number, north: number, size: number, seed: number): HeightGrid =>
  surfaceGrid(
    { west, north, step: STEP, columns: size, rows: size },
    (lon, lat) => 300 + 40 * Math.sin(seed + lon * 9000) * Math.cos(lat * 7000 + seed),
  );

describe('the ground within an area', () => {
  test('is as low and as high as dense sampling says, and no lower or higher', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1000 }),
        fc.array(fc.double({ min: 0.0005, max: 0.003, noNaN: true }), { minLength: 3, maxLength: 8 }),
        (seed, spokes) => {
          const grid = rough(10, 50.02, 60, seed);
          const ring = star(10.008, 50.012, spokes);
          const range = groundWithin([grid], ring);
          if (range === undefined) throw new Error('no ground');
          expect(groundAt(grid, range.leastAt)).toBeCloseTo(range.least, 3);
          expect(groundAt(grid, range.greatestAt)).toBeCloseTo(range.greatest, 3);
          const shape = { kind: 'polygons', polygons: [[ring]] } as const;
          let least = Number.POSITIVE_INFINITY;
          let greatest = Number.NEGATIVE_INFINITY;
          for (let i = 0; i <= 60; i++) {
            for (let j = 0; j <= 60; j++) {
              const at = lonLat(10.005 + (0.006 * i) / 60, 50.009 + (0.006 * j) / 60);
              if (!insideShape(shape, at)) continue;
              const ground = groundAt(grid, at) ?? Number.NaN;
              least = Math.min(least, ground);
              greatest = Math.max(greatest, ground);
            }
          }
          expect(range.least).toBeLessThan(least + 0.001);
          expect(range.greatest).toBeGreaterThan(greatest - 0.001);
          // The true extremes lie within half a sampling step of a sample, on slopes below two metres a metre.
          expect(range.least).toBeGreaterThan(least - 20);
          expect(range.greatest).toBeLessThan(greatest + 20);
        },
      ),
      { seed: 23, numRuns: 25 },
    );
  });

  test('of an area within one cell is that of its own outline, not of the nodes around', () => {
    const grid = gridFromRows(0, 0, STEP, [
      [0, 100],
      [0, 100],
    ]);
    const range = groundWithin(
      [grid],
      [lonLat(0.4 * STEP, 0.4 * STEP), lonLat(0.6 * STEP, 0.4 * STEP), lonLat(0.5 * STEP, 0.6 * STEP)],
    );
    expect(range?.least).toBeCloseTo(40, 6);
    expect(range?.greatest).toBeCloseTo(60, 6);
  });

  test('finds a peak that no edge of the outline touches', () => {
    const grid = surfaceGrid({ west: 0, north: 0.01, step: STEP, columns: 37, rows: 37 }, (lon, lat) =>
      Math.hypot(lon - 18 * STEP, lat - 18 * STEP) < STEP / 2 ? 500 : 100,
    );
    const ring = [
      lonLat(12 * STEP, 12 * STEP),
      lonLat(24.3 * STEP, 12 * STEP),
      lonLat(24 * STEP, 24.7 * STEP),
      lonLat(12 * STEP, 24 * STEP),
    ];
    const range = groundWithin([grid], ring);
    expect(range?.greatest).toBe(500);
    expect(range?.greatestAt.lon).toBeCloseTo(18 * STEP, 6);
    expect(range?.greatestAt.lat).toBeCloseTo(18 * STEP, 6);
    expect(range?.least).toBe(100);
  });

  test('is unknown where a part of the area has no data, and known once another raster fills in', () => {
    const holed = gridFromRows(0, 0, STEP, [
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1, 1],
      [1, 1, Number.NaN, 1, 1],
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1, 1],
    ]);
    const ring = [
      lonLat(0.5 * STEP, 0.5 * STEP),
      lonLat(3.5 * STEP, 0.5 * STEP),
      lonLat(3.5 * STEP, 3.5 * STEP),
      lonLat(0.5 * STEP, 3.5 * STEP),
    ];
    expect(groundWithin([holed], ring)).toBeUndefined();
    const filler = flatGrid({ west: -1, north: 1, step: 0.5, columns: 5, rows: 5 }, 7);
    expect(groundWithin([holed, filler], ring)).toMatchObject({ least: 1, greatest: 7 });
    const clear = [lonLat(0.1 * STEP, 0.1 * STEP), lonLat(0.9 * STEP, 0.1 * STEP), lonLat(0.9 * STEP, 0.9 * STEP)];
    expect(groundWithin([holed, filler], clear)).toMatchObject({ least: 1, greatest: 1 });
  });

  test('over two tiles that meet is that of both, and unknown with one of them', () => {
    const west = flatGrid({ west: 0, north: 10 * STEP, step: STEP, columns: 11, rows: 11 }, 20);
    const east = flatGrid({ west: 10 * STEP, north: 10 * STEP, step: STEP, columns: 11, rows: 11 }, 30);
    const ring = [lonLat(8 * STEP, 2 * STEP), lonLat(13 * STEP, 3 * STEP), lonLat(9 * STEP, 8 * STEP)];
    expect(groundWithin([west, east], ring)).toMatchObject({ least: 20, greatest: 30 });
    expect(groundWithin([east, west], ring)).toMatchObject({ least: 20, greatest: 30 });
    expect(groundWithin([west], ring)).toBeUndefined();
    expect(groundWithin([], ring)).toBeUndefined();
  });

  test('reaches across the 180° meridian', () => {
    const grid = surfaceGrid(
      { west: 179.99, north: -16.99, step: STEP, columns: 73, rows: 73 },
      (lon) => (lon - 179.99) * 1000,
    );
    const ring = [lonLat(179.995, -17), lonLat(-179.995, -17), lonLat(-179.995, -16.995), lonLat(179.995, -16.995)];
    const range = groundWithin([grid], ring);
    expect(range?.least).toBeCloseTo(5, 6);
    expect(range?.greatest).toBeCloseTo(15, 6);
  });
});

describe('terrain of several rasters', () => {
  const coarse = flatGrid({ west: -1, north: 1, step: 0.1, columns: 21, rows: 21 }, 50, 9);
  const fine = flatGrid({ west: 0, north: 0.01, step: STEP, columns: 37, rows: 37 }, 60, 2);

  test('takes the finest that has data, whatever order they come in', () => {
    for (const terrain of [
      terrainOf([{ grid: coarse }, { grid: fine }]),
      terrainOf([{ grid: fine }, { grid: coarse }]),
    ]) {
      expect(terrain.groundAt(lonLat(0.005, 0.005))).toBe(60);
      expect(terrain.groundAt(lonLat(0.05, 0.005))).toBe(50);
      expect(terrain.groundAt(lonLat(5, 5))).toBeUndefined();
      expect(terrain.error).toBe(9);
      const profile = terrain.groundAlong(legPath(lonLat(-0.01, 0.005), lonLat(0.02, 0.005)));
      expect([...profile.a].filter((a) => a === 60).length).toBeGreaterThan(0);
      expect(profile.a[0]).toBe(50);
      expect(profile.a[profile.pieces - 1]).toBe(50);
    }
  });

  test('of none is unknown everywhere', () => {
    const terrain = terrainOf([]);
    expect(terrain.groundAt(lonLat(0, 0))).toBeUndefined();
    expect([...terrain.groundAlong(legPath(lonLat(0, 0), lonLat(0.1, 0))).a]).toEqual([Number.NaN]);
  });
});

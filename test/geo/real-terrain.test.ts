import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { legPath } from '../../server/src/geo/geodesy.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { heightOverGround, intervalsOver } from '../../server/src/geo/quadratic.ts';
import { groundAlong, groundAt } from '../../server/src/geo/terrain-walk.ts';
import { aboveGround, aboveSea, lonLat, onGround } from '../../server/src/units/frames.ts';
import { latticeCoordinates } from '../../server/src/world/small-grid.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const TILE = 'terrain/N44W072.hgt';
const SIDE = 1201;

/** The SRTM tile of the Presidential Range, read here by hand: big-endian 16-bit heights, northernmost row first. */
const presidentialRange = (): HeightGrid => {
  const bytes = readFileSync(inReferenceData(TILE));
  const heights = new Int16Array(SIDE * SIDE);
  for (let i = 0; i < heights.length; i++) heights[i] = bytes.readInt16BE(2 * i);
  const lattice = { west: -72, north: 45, step: 1 / 1200, columns: SIDE, rows: SIDE };
  return {
    columns: SIDE,
    rows: SIDE,
    heights,
    noData: -32_768,
    toGrid: latticeCoordinates(lattice),
    cellMetres: 90,
    errorMetres: 16,
  };
};

/** Bilinear ground written on its own. */
const groundByHand = (grid: HeightGrid, lon: number, lat: number): number => {
  const x = (lon + 72) * 1200;
  const y = (45 - lat) * 1200;
  const [i, j] = [Math.floor(x), Math.floor(y)];
  const at = (column: number, row: number): number => grid.heights[row * SIDE + column] ?? Number.NaN;
  const [p, q] = [x - i, y - j];
  return (
    (1 - p) * (1 - q) * at(i, j) + p * (1 - q) * at(i + 1, j) + (1 - p) * q * at(i, j + 1) + p * q * at(i + 1, j + 1)
  );
};

describe.skipIf(!hasReferenceData(TILE))(`over the Presidential Range (${NEEDS_REFERENCE_DATA})`, () => {
  // From the shoulder of one mountain across the ravine to the next, 100 m above ground at either end.
  const from = lonLat(-71.29, 44.284);
  const to = lonLat(-71.319, 44.304);

  test('two points at 100 m above ground hide a leg hundreds of metres above it', () => {
    const grid = presidentialRange();
    const path = legPath(from, to);
    const [start, end] = [from, to].map((at) => onGround(groundAt(grid, at) ?? aboveSea(Number.NaN), aboveGround(100)));
    if (start === undefined || end === undefined) throw new Error('no ends');
    const profile = groundAlong(grid, path);
    const { least, greatest, gaps } = heightOverGround(profile, start, end, path.length);
    expect(gaps).toEqual([]);
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    const steps = 20_000;
    for (let i = 0; i <= steps; i++) {
      const { lon, lat } = path.at((path.length * i) / steps);
      const height = start + ((end - start) * i) / steps - groundByHand(grid, lon, lat);
      low = Math.min(low, height);
      high = Math.max(high, height);
    }
    // Samples lie 0.36 m apart on slopes below one in one; the walk itself is within a centimetre.
    expect(Math.abs((greatest?.value ?? Number.NaN) - high)).toBeLessThan(0.2);
    expect(Math.abs((least?.value ?? Number.NaN) - low)).toBeLessThan(0.2);
    expect(greatest?.value).toBeGreaterThan(high - 0.02);
    expect(least?.value).toBeLessThan(low + 0.02);
    expect(greatest?.value).toBeGreaterThan(500);
    expect(least?.value).toBeGreaterThan(0);
    expect(intervalsOver(profile, start, end, path.length, aboveGround(121.92)).length).toBeGreaterThan(0);
  });

  test('every leg of a star of legs over the whole tile agrees with sampling', () => {
    const grid = presidentialRange();
    const middle = lonLat(-71.5, 44.5);
    for (let turn = 0; turn < 360; turn += 23) {
      const angle = (turn * Math.PI) / 180;
      const path = legPath(middle, lonLat(-71.5 + 0.12 * Math.cos(angle), 44.5 + 0.09 * Math.sin(angle)));
      const level = aboveSea(1000);
      const { least, greatest } = heightOverGround(groundAlong(grid, path), level, level, path.length);
      for (let i = 0; i <= 2000; i++) {
        const { lon, lat } = path.at((path.length * i) / 2000);
        const height = 1000 - groundByHand(grid, lon, lat);
        expect(height).toBeLessThan((greatest?.value ?? Number.NaN) + 0.02);
        expect(height).toBeGreaterThan((least?.value ?? Number.NaN) - 0.02);
      }
    }
  });
});

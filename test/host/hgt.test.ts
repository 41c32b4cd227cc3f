import { describe, expect, test } from 'vitest';
import type { Box } from '../../server/src/geo/box.ts';
import { diskFiles } from '../../server/src/host/disk.ts';
import { byteSource } from '../../server/src/host/raster/byte-source.ts';
import { readHgt, tileCorner, tileMeets } from '../../server/src/host/raster/hgt.ts';
import { gridOf } from '../../server/src/host/raster/raster-part.ts';
import { degrees, lonLat } from '../../server/src/units/frames.ts';
import { makeHgt } from '../support/make-raster.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const box = (west: number, south: number, east: number, north: number): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

const sourceOf = async (bytes: Uint8Array) => {
  const files = memoryFiles({ '/tile': bytes });
  const stat = await files.stat('/tile');
  if (stat === undefined) throw new Error('the file is not there');
  return byteSource(files, '/tile', stat);
};

const nodeAt = (grid: ReturnType<typeof gridOf>, lon: number, lat: number): number => {
  const { x, y } = grid.toGrid(lonLat(lon, lat));
  expect(Math.abs(x - Math.round(x))).toBeLessThan(1e-6);
  expect(Math.abs(y - Math.round(y))).toBeLessThan(1e-6);
  return grid.heights[Math.round(y) * grid.columns + Math.round(x)] ?? Number.NaN;
};

test('a name gives the south-west corner in each quarter of the globe', () => {
  expect(tileCorner('N44W072.hgt')).toEqual({ lat: 44, lon: -72 });
  expect(tileCorner('s09e160.HGT')).toEqual({ lat: -9, lon: 160 });
  expect(tileCorner('S01W001.SRTMGL1.hgt')).toEqual({ lat: -1, lon: -1 });
  expect(tileCorner('N00E000.hgt')).toEqual({ lat: 0, lon: 0 });
  for (const name of ['ground.hgt', 'N4W072.hgt', 'N95E010.hgt', 'N10E190.hgt', 'N44W0721.hgt']) {
    expect(tileCorner(name)).toBeUndefined();
  }
});

test('a tile meets the boxes that touch its degree square, also at the 180° meridian', () => {
  expect(tileMeets('N44W072.hgt', box(-71.5, 44.2, -71.4, 44.3))).toBe(true);
  expect(tileMeets('N44W072.hgt', box(-70.9, 44.2, -70.8, 44.3))).toBe(false);
  expect(tileMeets('N10E179.hgt', box(179.9, 10.2, -179.9, 10.3))).toBe(true);
  expect(tileMeets('N10W180.hgt', box(179.9, 10.2, -179.9, 10.3))).toBe(true);
});

describe.each([1201, 3601] as const)('a tile of %i nodes a side', (side) => {
  const surface = (lon: number, lat: number): number => Math.round(1000 + (lon + 72) * 500 - (lat - 44) * 300);
  const tile = makeHgt(44, -72, side, (lon, lat) => (lon > -71.001 ? Number.NaN : surface(lon, lat)));

  test('has its nodes on the whole degrees and reads only the rows it needs', async () => {
    const part = await readHgt(await sourceOf(tile), 'N44W072.hgt', box(-71.52, 44.2, -71.48, 44.25));
    if (part === undefined) throw new Error('the tile was not met');
    expect(part.rows).toBeLessThan(side / 10);
    const grid = gridOf(part, lonLat(-71.5, 44.22));
    expect(nodeAt(grid, -71.5, 44.225)).toBe(surface(-71.5, 44.225));
    expect(grid.cellMetres).toBeGreaterThan((111_000 / (side - 1)) * 0.8);
    expect(grid.cellMetres).toBeLessThan(111_400 / (side - 1));
  });

  test('gives voids as missing', async () => {
    const part = await readHgt(await sourceOf(tile), 'N44W072.hgt', box(-71.01, 44.2, -71, 44.21));
    if (part === undefined) throw new Error('the tile was not met');
    const grid = gridOf(part, lonLat(-71, 44.2));
    expect(nodeAt(grid, -71, 44.205)).toBeNaN();
    expect(nodeAt(grid, -71.005, 44.205)).toBe(surface(-71.005, 44.205));
  });

  test('read in two windows gives the same heights at the same places', async () => {
    const source = await sourceOf(tile);
    const one = await readHgt(source, 'N44W072.hgt', box(-71.6, 44.2, -71.5, 44.3));
    const other = await readHgt(source, 'N44W072.hgt', box(-71.55, 44.1, -71.4, 44.25));
    if (one === undefined || other === undefined) throw new Error('the tile was not met');
    const about = lonLat(-71.5, 44.2);
    for (let i = 0; i <= 10; i++) {
      const lon = -71.55 + (0.05 * i) / 10;
      const lat = 44.2 + (0.05 * i) / 10;
      const here = gridOf(one, about).toGrid(lonLat(lon, lat));
      const there = gridOf(other, about).toGrid(lonLat(lon, lat));
      expect(here.x + one.column).toBe(there.x + other.column);
      expect(here.y + one.row).toBe(there.y + other.row);
    }
  });
});

test('refuses what is no tile, each with its reason', async () => {
  const anywhere = box(-71.5, 44.2, -71.4, 44.3);
  const refusal = async (bytes: Uint8Array, name: string): Promise<string> => {
    try {
      await readHgt(await sourceOf(bytes), name, anywhere);
    } catch (error) {
      return error instanceof Error ? error.message : '';
    }
    return 'not refused';
  };
  expect(await refusal(new Uint8Array(0), 'N44W072.hgt')).toBe('is empty');
  expect(await refusal(new Uint8Array(1201 * 1201 * 2 - 2), 'N44W072.hgt')).toContain('has 2884800 bytes');
  expect(await refusal(Uint8Array.of(0x50, 0x4b, 3, 4, 0), 'N44W072.hgt')).toContain('zip archive');
  expect(await refusal(new Uint8Array(1201 * 1201 * 2), 'ground.hgt')).toContain(
    'not named after its south-west corner',
  );
});

test('gives nothing for a box elsewhere', async () => {
  const tile = makeHgt(44, -72, 1201, () => 5);
  expect(await readHgt(await sourceOf(tile), 'N44W072.hgt', box(10, 44, 10.1, 44.1))).toBeUndefined();
});

// NASA SRTM3 tile N44W072, void-filled. The node nearest to Mount Washington (published 1916.6 m at 44.2706, -71.3033)
// holds 1908 m; the whole tile runs from 115 m to 1908 m.
const TILE = 'terrain/N44W072.hgt';
test.skipIf(!hasReferenceData(TILE))(`finds Mount Washington in the real tile (${NEEDS_REFERENCE_DATA})`, async () => {
  const files = diskFiles();
  const stat = await files.stat(inReferenceData(TILE));
  if (stat === undefined) throw new Error('the tile is not there');
  const source = await byteSource(files, inReferenceData(TILE), stat);
  const near = await readHgt(source, 'N44W072.hgt', box(-71.31, 44.26, -71.29, 44.28));
  if (near === undefined) throw new Error('the tile was not met');
  expect(nodeAt(gridOf(near, lonLat(-71.3, 44.27)), -72 + 836 / 1200, 45 - 875 / 1200)).toBe(1908);
  const whole = await readHgt(source, 'N44W072.hgt', box(-72, 44, -71, 45));
  if (whole === undefined) throw new Error('the tile was not met');
  expect([whole.columns, whole.rows]).toEqual([1201, 1201]);
  expect([...whole.heights].reduce((most, height) => Math.max(most, height), 0)).toBe(1908);
  expect([...whole.heights].reduce((least, height) => Math.min(least, height), 9999)).toBe(115);
});

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { isMissing } from '../../server/src/world/world.ts';
import { DOCUMENT, load, there, tiff } from '../support/load-plan.ts';
import { makeHgt } from '../support/make-raster.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

describe('tiles', () => {
  const surface = (lon: number, lat: number): number =>
    1000 + Math.round((lon - 10) * 2000) + Math.round((lat - 47) * 1000);
  const tiles = {
    '/data/dem/N47E009.hgt': makeHgt(47, 9, 1201, surface),
    '/data/dem/N47E010.hgt': makeHgt(47, 10, 1201, surface),
    '/data/dem/N46E009.hgt': makeHgt(46, 9, 1201, surface),
    '/data/dem/N46E010.hgt': makeHgt(46, 10, 1201, surface),
    '/data/dem/N10E010.hgt': 'a broken tile that no plan here needs',
    '/data/dem/notes.txt': 'notes',
  };

  test('a folder gives those that meet the plan, and the ground is whole where they join', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', ...tiles });
    const { world, problems } = await load('terrain: data:dem/', files);
    expect(problems).toEqual([]);
    expect(world.data.map(({ name, edition }) => `${name}: ${edition}`)).toEqual([
      'data:dem/N46E009.hgt: SRTM tile N46E009',
      'data:dem/N46E010.hgt: SRTM tile N46E010',
      'data:dem/N47E009.hgt: SRTM tile N47E009',
      'data:dem/N47E010.hgt: SRTM tile N47E010',
    ]);
    const profile = there(world.terrain).groundAlong(legPath(lonLat(9.997, 46.997), lonLat(10.004, 47.003)));
    expect(profile.pieces).toBeGreaterThan(5);
    for (let i = 0; i < profile.pieces; i++) expect(profile.a[i]).not.toBeNaN();
  });

  test('tiles of pixels that are areas join without a strip of nothing between them', async () => {
    const half = (x: number): Uint8Array =>
      tiff({ columns: 50, x, value: (column, row) => 400 + (x - 9.95) * 1000 + column + row });
    const files = memoryFiles({ [DOCUMENT]: '', '/house/dem/a.tif': half(9.95), '/house/dem/b.tif': half(10) });
    const { world, problems } = await load('terrain: ../dem', files);
    expect(problems).toEqual([]);
    expect(there(world.terrain).groundAt(lonLat(9.9995, 47))).toBeCloseTo(499.5, 3);
  });

  test('a broken tile is named, and the others count', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', ...tiles, '/data/dem/N47E010.hgt': 'broken' });
    const { world, problems } = await load('terrain: data:dem', files);
    expect(problems).toEqual([expect.stringContaining('data:dem holds N47E010.hgt, which has 6 bytes')]);
    expect(there(world.terrain).groundAt(lonLat(9.999, 47.001))).toBeDefined();
    expect(there(world.terrain).groundAt(lonLat(10.001, 47.001))).toBeUndefined();
  });

  test('a folder without a tile for the plan says so', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', '/data/dem/N10E010.hgt': 'broken' });
    const { problems, world } = await load('terrain: data:dem', files);
    expect(problems).toEqual(["data:dem holds no tile that meets the plan's area"]);
    expect(isMissing(world.terrain)).toBe(true);
  });

  test('a tile that is a link out of the folder is not followed', async () => {
    const files = memoryFiles(
      { [DOCUMENT]: '', '/secret/tile.hgt': makeHgt(47, 10, 1201, () => 5) },
      { links: { '/data/dem/N47E010.hgt': '/secret/tile.hgt' } },
    );
    const { problems } = await load('terrain: data:dem', files);
    expect(problems).toEqual(['data:dem holds N47E010.hgt, which leads by a link out of where it may lead']);
  });

  test('in restricted mode the data folder stays closed', async () => {
    const { world, problems } = await load('terrain: data:dem', memoryFiles({ [DOCUMENT]: '', ...tiles }), {
      restricted: true,
    });
    expect(problems[0]).toContain('restricted mode');
    expect(isMissing(world.terrain)).toBe(true);
  });
});

const TILE = 'terrain/N44W072.hgt';
test.skipIf(!hasReferenceData(TILE))(`the real tile under Mount Washington (${NEEDS_REFERENCE_DATA})`, async () => {
  const files = memoryFiles({
    [DOCUMENT]: '',
    '/data/N44W072.hgt': new Uint8Array(readFileSync(inReferenceData(TILE))),
  });
  const plan =
    'mission: 1\nterrain: data:N44W072.hgt\nroute:\n  - take-off: summit\n    at: 44.27083333, -71.30333333\n';
  const { world, problems } = await load('', files, { plan });
  expect(problems).toEqual([]);
  expect(there(world.terrain).groundAt(lonLat(-72 + 836 / 1200, 45 - 875 / 1200))).toBeCloseTo(1908, 3);
});

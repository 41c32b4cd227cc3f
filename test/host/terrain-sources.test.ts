import { mkdirSync, readFileSync, truncateSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { groundOf } from '../../server/src/geo/ground-profile.ts';
import { diskFiles } from '../../server/src/host/disk.ts';
import { loadWorld, worldCache } from '../../server/src/host/load-world.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { isMissing } from '../../server/src/world/world.ts';
import { DOCUMENT, load, reasonOf, there, tiff } from '../support/load-plan.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const files = memoryFiles({
  [DOCUMENT]: '',
  '/house/ground.tif': tiff(),
  '/house/roofs.tif': tiff({ value: () => 900 }),
  '/house/notes.txt': 'notes',
});
const HERE = lonLat(10.004, 47.0007);

describe('what the plan says about a raster', () => {
  test('a stated error takes the place of the usual one, and the data of the report say so', async () => {
    const usual = await load('terrain: ../ground.tif', files);
    const stated = await load('terrain: [{ file: ../ground.tif, error: 6 ft, edition: survey of 2025 }]', files);
    expect(stated.problems).toEqual([]);
    expect(there(usual.world.terrain).error).toBeCloseTo(16 / 1.645, 6);
    expect(there(stated.world.terrain).error).toBeCloseTo(1.8288, 6);
    const [source] = stated.world.data;
    expect(source?.edition).toContain('survey of 2025');
    expect(source?.edition).toContain('vertical error stated in the plan, 1.8 m');
    expect(source?.edition).not.toContain('not stated, taken as 9.7');
  });

  test('an error that could not be read leaves the usual one, and is told', async () => {
    const { world } = await load('terrain: [{ file: ../ground.tif, error: small }]', files);
    expect(there(world.terrain).error).toBeCloseTo(16 / 1.645, 6);
  });

  test('a surface model is kept apart from the ground', async () => {
    const { world, problems } = await load('terrain: [../ground.tif, { file: ../roofs.tif, is: surface }]', files);
    expect(problems).toEqual([]);
    expect(there(world.terrain).groundAt(HERE)).toBeLessThan(600);
    if (world.surface === undefined) throw new Error('no surface model');
    expect(there(world.surface).groundAt(HERE)).toBe(900);
  });

  test('a surface model alone is no ground', async () => {
    const { world } = await load('terrain: [{ file: ../roofs.tif, is: surface }]', files);
    expect(reasonOf(world.terrain)).toBe('the plan names surface models only, which are no ground');
  });

  test('a surface model that cannot be used is told and stays missing, and the ground counts', async () => {
    const { world, problems } = await load('terrain: [../ground.tif, { file: ../none.tif, is: surface }]', files);
    expect(problems).toEqual(['../none.tif does not exist']);
    expect(isMissing(world.terrain)).toBe(false);
    expect(world.surface).toEqual({ missing: 'surface model "../none.tif" does not exist' });
  });

  test('the same raster may be both', async () => {
    const { world } = await load('terrain: [../ground.tif, { file: ../ground.tif, is: surface }]', files);
    expect(world.surface === undefined ? 0 : there(world.surface).groundAt(HERE)).toBe(
      there(world.terrain).groundAt(HERE),
    );
  });
});

describe('rasters of two resolutions', () => {
  // The fine one lies in the middle of the coarse one and has a hole; both are of the same plane, the fine one 100 m higher.
  const plane = (lon: number, lat: number): number => 500 + 2000 * (lon - 10) + 1000 * (lat - 47);
  const coarse = tiff({
    x: 9.9,
    y: 47.1,
    stepX: 0.004,
    stepDown: 0.004,
    columns: 51,
    rows: 51,
    value: (column, row) => plane(9.9 + 0.004 * column, 47.1 - 0.004 * row),
  });
  const fine = tiff({
    x: 10.0003,
    y: 47.0021,
    stepX: 0.0001,
    stepDown: 0.0001,
    columns: 61,
    rows: 41,
    noData: '-9999',
    value: (column, row) =>
      column > 28 && column < 34 ? -9999 : 100 + plane(10.0003 + 0.0001 * column, 47.0021 - 0.0001 * row),
  });
  const both = memoryFiles({ [DOCUMENT]: '', '/house/coarse.tif': coarse, '/house/fine.tif': fine });

  test.each([['[../coarse.tif, ../fine.tif]'], ['[../fine.tif, ../coarse.tif]']])(
    'the finer one counts where it has data, in whichever order they are named: %s',
    async (references) => {
      const { world, problems } = await load(`terrain: ${references}`, both);
      expect(problems).toEqual([]);
      const terrain = there(world.terrain);
      expect(terrain.groundAt(lonLat(10.001, 47.0001))).toBeCloseTo(100 + plane(10.001, 47.0001), 1);
      expect(terrain.cellAt(lonLat(10.001, 47.0001))).toBeLessThan(12);
      // In the hole of the fine one, and beside it, the coarse one answers.
      expect(terrain.groundAt(lonLat(10.0034, 47.0001))).toBeCloseTo(plane(10.0034, 47.0001), 1);
      expect(terrain.cellAt(lonLat(10.0034, 47.0001))).toBeGreaterThan(300);
      expect(terrain.groundAt(lonLat(10.009, 47.0001))).toBeCloseTo(plane(10.009, 47.0001), 1);
    },
  );

  test('a path over all of it has ground everywhere, and the one that counts at each place', async () => {
    const { world } = await load('terrain: [../coarse.tif, ../fine.tif]', both);
    const terrain = there(world.terrain);
    const path = legPath(lonLat(9.9985, 47.0001), lonLat(10.0095, 47.0005));
    const profile = terrain.groundAlong(path);
    for (let i = 0; i <= 500; i++) {
      const along = (path.length * i) / 500;
      const ground = groundOf(profile, along);
      expect(ground).not.toBeNaN();
      const sampled = terrain.groundAt(path.at(along)) ?? Number.NaN;
      // At the very border of the fine one either may answer.
      if (Math.abs(ground - sampled) > 0.05) {
        const near = [-0.2, 0.2].map((step) =>
          terrain.groundAt(path.at(Math.min(path.length, Math.max(0, along + step)))),
        );
        expect(near.some((other) => Math.abs(ground - (other ?? Number.NaN)) < 1)).toBe(true);
      }
    }
  });
});

describe('a raster that changes while plans are checked', () => {
  const folder = temporaryFolder();
  const raster = join(folder, 'ground.tif');
  const document = join(folder, 'plans', 'a.mission.yaml');
  mkdirSync(join(folder, 'plans'));
  const plan =
    'mission: 1\nterrain: ../ground.tif\nroute:\n  - take-off: a\n    at: 47, 10\n  - point: b\n    at: 47, 10.01\n    altitude: 60 m AGL\n';
  const cache = worldCache();
  const loadNow = async () => {
    const options = { files: diskFiles(), root: folder, dataFolders: [], restricted: false, cache };
    const world = await loadWorld(readPlan(plan, document), options);
    const problems = [...world.problems].flatMap(([name, all]) => all.map((problem) => `${name} ${problem}`));
    return { world, problems };
  };

  test('is read anew, is missing once it is gone, and is there again once it is back', async () => {
    writeFileSync(raster, tiff());
    const first = await loadNow();
    expect(first.problems).toEqual([]);
    const before = there(first.world.terrain).groundAt(HERE);
    writeFileSync(raster, tiff({ columns: 102, value: (column, row) => 700 + column + row }));
    const second = await loadNow();
    expect((there(second.world.terrain).groundAt(HERE) ?? Number.NaN) - (before ?? Number.NaN)).toBeCloseTo(300, 3);
    unlinkSync(raster);
    const third = await loadNow();
    expect(third.problems).toEqual([expect.stringContaining('../ground.tif does not exist')]);
    expect(isMissing(third.world.terrain)).toBe(true);
    // What was loaded before is whole still: a review that runs on it is not disturbed.
    expect(there(first.world.terrain).groundAt(HERE)).toBe(before);
    writeFileSync(raster, tiff());
    expect(there((await loadNow()).world.terrain).groundAt(HERE)).toBe(before);
  });

  test('that is cut short is told, and never half read', async () => {
    writeFileSync(raster, tiff());
    truncateSync(raster, 20_000);
    const { world, problems } = await loadNow();
    expect(problems).toEqual([expect.stringContaining('../ground.tif')]);
    expect(problems[0]).toMatch(/cut short|damaged/);
    expect(isMissing(world.terrain)).toBe(true);
  });

  test('that vanishes between the look at it and the reading is told', async () => {
    const own = memoryFiles({ [DOCUMENT]: '', '/house/ground.tif': tiff() });
    const vanishing = {
      ...own,
      readPart: async () => {
        throw new Error('does not exist any more');
      },
    };
    const { world, problems } = await load('terrain: ../ground.tif', vanishing);
    expect(problems).toEqual(['../ground.tif does not exist any more']);
    expect(isMissing(world.terrain)).toBe(true);
  });

  test('that shrinks between the look at it and the reading is told', async () => {
    const own = memoryFiles({ [DOCUMENT]: '', '/house/ground.tif': tiff() });
    const shrinking = {
      ...own,
      readPart: async (location: string, offset: number, length: number) =>
        (await own.readPart?.(location, offset, length))?.slice(0, Math.max(0, 9000 - offset)) ?? new Uint8Array(0),
    };
    const { problems } = await load('terrain: ../ground.tif', shrinking);
    expect(problems).toEqual([expect.stringContaining('ends before its content does')]);
  });
});

const TILE = 'terrain/N44W072.hgt';
const CUT = 'terrain/derived_presidential_4326_cog.tif';
const PROJECTED = 'terrain/derived_presidential_utm19n_90m.tif';
describe.skipIf(![TILE, CUT, PROJECTED].every(hasReferenceData))(
  `real ground in several rasters (${NEEDS_REFERENCE_DATA})`,
  () => {
    const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(inReferenceData(path)));
    const real = memoryFiles({
      [DOCUMENT]: '',
      '/data/N44W072.hgt': bytesOf(TILE),
      '/data/cut.tif': bytesOf(CUT),
      '/data/utm.tif': bytesOf(PROJECTED),
    });
    const profileOf = async (references: string, from: readonly [number, number], to: readonly [number, number]) => {
      const plan = `mission: 1\nterrain: [${references}]\nroute:\n  - take-off: a\n    at: ${from[1]}, ${from[0]}\n  - point: b\n    at: ${to[1]}, ${to[0]}\n    altitude: 2000 m AMSL\n`;
      const { world, problems } = await load('', real, { plan });
      expect(problems).toEqual([]);
      const path = legPath(lonLat(...from), lonLat(...to));
      const profile = there(world.terrain).groundAlong(path);
      return Array.from({ length: 2001 }, (_, i) => groundOf(profile, (path.length * i) / 2000));
    };
    const furthest = (ones: readonly number[], others: readonly number[]): number =>
      ones.reduce((worst, one, i) => Math.max(worst, Math.abs(one - (others[i] ?? Number.NaN))), 0);

    test('a tile goes on where a raster that was cut from it ends, without a gap or a step', async () => {
      // The cut ends at 44.20 N and 71.45 W.
      const ends = [[-71.42, 44.23] as const, [-71.48, 44.18] as const] as const;
      const alone = await profileOf('data:N44W072.hgt', ...ends);
      const both = await profileOf('data:cut.tif, data:N44W072.hgt', ...ends);
      expect(furthest(both, alone)).toBeLessThan(0.001);
      const cut = await profileOf('data:cut.tif', ...ends);
      expect(cut.some(Number.isNaN)).toBe(true);
    });

    test('the coarser projected one fills what the finer one lacks, and differs from the tile as resampling does', async () => {
      const ends = [[-71.42, 44.23] as const, [-71.4, 44.26] as const] as const;
      const alone = await profileOf('data:N44W072.hgt', ...ends);
      const projected = await profileOf('data:utm.tif', ...ends);
      const worst = furthest(projected, alone);
      // Bilinear at other nodes 90 m apart: rough ground differs by metres.
      expect(worst).toBeGreaterThan(0.01);
      expect(worst).toBeLessThan(30);
      expect(await profileOf('data:utm.tif, data:N44W072.hgt', ...ends)).toEqual(alone);
    });
  },
);

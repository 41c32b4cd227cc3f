import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { byteSource } from '../../server/src/host/raster/byte-source.ts';
import { readGtx } from '../../server/src/host/raster/gtx.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { type Geoid, geoidOf } from '../../server/src/world/geoid.ts';
import { isMissing, type Missing } from '../../server/src/world/world.ts';
import { DOCUMENT, load, there, tiff } from '../support/load-plan.ts';
import { type GtxOptions, makeGtx } from '../support/make-gtx.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { box } from '../support/read-raster.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

/** A grid around the whole Earth whose value tells its place; bilinear in between, but not where the turn closes. */
const WORLD: GtxOptions = {
  south: -90,
  west: -180,
  stepNorth: 5,
  stepEast: 5,
  rows: 37,
  columns: 72,
  value: (lon, lat) => Math.abs(lon) / 2 + lat / 10,
};
const PART: GtxOptions = { ...WORLD, south: 40, west: 0, rows: 5, columns: 5 };

const geoidAround = async (bytes: Uint8Array, where: Parameters<typeof box>): Promise<Geoid | undefined> => {
  const files = memoryFiles({ '/g.gtx': bytes });
  const stat = await files.stat('/g.gtx');
  if (stat === undefined) throw new Error('the file is not there');
  const window = await readGtx(await byteSource(files, '/g.gtx', stat), box(...where));
  return window && geoidOf(window);
};

const refusal = async (bytes: Uint8Array): Promise<string> => {
  try {
    await geoidAround(bytes, [9, 46, 11, 48]);
  } catch (error) {
    return error instanceof Error ? error.message : '';
  }
  return 'not refused';
};

const put = (bytes: Uint8Array, at: number, value: number): Uint8Array => {
  const changed = bytes.slice();
  new DataView(changed.buffer).setFloat64(at, value, false);
  return changed;
};

describe('a geoid grid', () => {
  test('is bilinear between its nodes', async () => {
    const geoid = await geoidAround(makeGtx(WORLD), [9, 46, 11, 48]);
    expect(geoid?.undulationAt(lonLat(10, 45))).toBeCloseTo(9.5, 6);
    expect(geoid?.undulationAt(lonLat(11.25, 46))).toBeCloseTo(11.25 / 2 + 4.6, 5);
  });

  test('is whole across the 180th meridian and where its columns close', async () => {
    const geoid = await geoidAround(makeGtx(WORLD), [179, 0, -179, 1]);
    expect(geoid?.undulationAt(lonLat(179, 0))).toBeCloseTo(89.5, 4);
    expect(geoid?.undulationAt(lonLat(-179, 0))).toBeCloseTo(89.5, 4);
    expect(geoid?.undulationAt(lonLat(-180, 0))).toBeCloseTo(90, 4);
    const { least, greatest } = geoid?.rangeIn(box(178, 0, -177, 1)) ?? {};
    expect(least).toBeCloseTo(88.5, 4);
    expect(greatest).toBeCloseTo(90.1, 4);
  });

  test('counts its columns from 0 to 360 degrees as well', async () => {
    const geoid = await geoidAround(makeGtx({ ...WORLD, west: 0, value: (lon) => lon / 10 }), [-73, 44, -71, 45]);
    expect(geoid?.undulationAt(lonLat(-72, 44.5))).toBeCloseTo(28.8, 5);
  });

  test('has no value beside itself, nor where it is filled', async () => {
    const part = await geoidAround(makeGtx(PART), [19, 55, 23, 59]);
    expect(part?.undulationAt(lonLat(20, 60))).toBeCloseTo(16, 5);
    expect(part?.undulationAt(lonLat(20.1, 60))).toBeUndefined();
    expect(part?.rangeIn(box(19, 55, 21, 56))).toBeUndefined();
    expect(await geoidAround(makeGtx(PART), [40, 50, 41, 51])).toBeUndefined();
    const filled = await geoidAround(makeGtx({ ...PART, value: () => -88.8888 }), [9, 46, 11, 48]);
    expect(filled?.undulationAt(lonLat(10, 47))).toBeUndefined();
  });

  test('has its extremes over a box at the corners of its cells there, as sampling has', async () => {
    const bumpy = makeGtx({ ...PART, value: (lon, lat) => 20 * Math.sin(lon) + 15 * Math.cos(lat) });
    const geoid = await geoidAround(bumpy, [1, 41, 19, 59]);
    const range = geoid?.rangeIn(box(1, 41, 19, 59));
    let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let lon = 1; lon <= 19; lon += 0.25) {
      for (let lat = 41; lat <= 59; lat += 0.25) {
        const here = geoid?.undulationAt(lonLat(lon, lat)) ?? Number.NaN;
        least = Math.min(least, here);
        greatest = Math.max(greatest, here);
      }
    }
    expect(range?.least).toBeCloseTo(least, 6);
    expect(range?.greatest).toBeCloseTo(greatest, 6);
  });
});

describe('what is no geoid grid is refused with the reason', () => {
  const sound = makeGtx(PART);
  const zip = new Uint8Array(sound.length);
  zip.set([0x50, 0x4b, 3, 4]);
  test.each([
    ['an empty file', new Uint8Array(0), 'is empty'],
    ['ten bytes', new Uint8Array(10), 'is no geoid grid'],
    ['a zip archive', zip, 'is no geoid grid'],
    [
      'a text',
      new TextEncoder().encode('a geoid grid of ours, in words and more words than a header has'),
      'no geoid grid',
    ],
    ['a raster', tiff(), 'is no geoid grid'],
    ['a file cut short', sound.slice(0, sound.length - 3), 'cut short or damaged'],
    ['a file with more than it tells of', new Uint8Array([...sound, 0]), '1 bytes more than its header tells of'],
    ['a step of nothing', put(sound, 16, 0), 'is no geoid grid'],
    ['a step that is no number', put(sound, 24, Number.NaN), 'is no geoid grid'],
    ['a place off the Earth', put(sound, 0, 95), 'is no geoid grid'],
  ])('%s', async (_, bytes, reason) => {
    expect(await refusal(bytes)).toContain(reason);
  });
});

const terrainIn = async (head: string, files: Readonly<Record<string, Uint8Array>>) => {
  const { world, problems } = await load(head, memoryFiles({ [DOCUMENT]: '', ...files }));
  return { world, problems };
};

const missing = <T>(part: T | Missing | undefined): string =>
  part !== undefined && isMissing(part) ? part.missing : 'there';

describe('a raster of heights above the ellipsoid', () => {
  const geoid = { '/house/geoid.gtx': makeGtx({ ...WORLD, value: (lon, lat) => 40 + lon / 10 + lat / 20 }) };
  const above = (lon: number, lat: number): number => 40 + lon / 10 + lat / 20;
  const ellipsoidal = { '/house/high.tif': tiff({ epsg: 4979 }) };
  const plain = { '/house/low.tif': tiff() };

  test('is refused without a geoid grid, which the reason names', async () => {
    const { world, problems } = await terrainIn('terrain: ../high.tif', ellipsoidal);
    expect(problems).toEqual([expect.stringContaining('name a geoid grid in the plan (geoid)')]);
    expect(isMissing(world.terrain)).toBe(true);
  });

  test('is brought to mean sea level by one', async () => {
    const { world, problems } = await terrainIn('terrain: ../high.tif\ngeoid: ../geoid.gtx', {
      ...ellipsoidal,
      ...geoid,
    });
    expect(problems).toEqual([]);
    const { world: other } = await terrainIn('terrain: ../low.tif', plain);
    for (const [lon, lat] of [
      [10, 47],
      [10.0083, 46.9971],
    ] as const) {
      const at = lonLat(lon, lat);
      const expected = (there(other.terrain).groundAt(at) ?? Number.NaN) - above(lon, lat);
      expect(there(world.terrain).groundAt(at)).toBeCloseTo(expected, 3);
    }
    // 1 m for the geoid, from memory: NASA/TP-1998-206861.
    expect(there(world.terrain).error).toBeCloseTo(there(other.terrain).error + 1, 6);
    expect(world.data.map(({ name }) => name)).toEqual(['../geoid.gtx', '../high.tif']);
    expect(world.data[1]?.edition).toContain('brought to mean sea level by the geoid grid of the plan');
  });

  test('in a projection as well, by the way back from it', async () => {
    // UTM zone 32 north: 10 E 47 N lies at some 576000 E, 5205600 N.
    const projected = tiff({
      epsg: 32632,
      model: 'projected',
      x: 574_000,
      y: 5_208_000,
      stepX: 50,
      stepDown: 50,
      columns: 100,
      rows: 100,
      keys: { 4096: 4979 },
      value: () => 500,
    });
    const { world, problems } = await terrainIn('terrain: ../utm.tif\ngeoid: ../geoid.gtx', {
      '/house/utm.tif': projected,
      ...geoid,
    });
    expect(problems).toEqual([]);
    const ground = there(world.terrain).groundAt(lonLat(10.004, 47.001));
    expect(Math.abs((ground ?? Number.NaN) - (500 - above(10.004, 47.001)))).toBeLessThan(0.001);
  });

  test('that says of its heights both one and the other is refused', async () => {
    const both = { '/house/high.tif': tiff({ epsg: 4979, keys: { 4096: 5773 } }) };
    const { problems } = await terrainIn('terrain: ../high.tif\ngeoid: ../geoid.gtx', { ...both, ...geoid });
    expect(problems).toEqual([
      expect.stringContaining('both that they are above the ellipsoid and above mean sea level'),
    ]);
  });

  test('stays refused where the geoid grid could not be used, and both are told', async () => {
    const { world, problems } = await terrainIn('terrain: ../high.tif\ngeoid: ../none.gtx', ellipsoidal);
    expect(problems).toEqual([
      expect.stringContaining('../none.gtx does not exist'),
      expect.stringContaining('../high.tif gives heights above the ellipsoid'),
    ]);
    expect(missing(world.geoid)).toBe('geoid "../none.gtx" does not exist');
  });

  test('does not change what is above mean sea level already', async () => {
    const { world } = await terrainIn('terrain: ../low.tif\ngeoid: ../geoid.gtx', { ...plain, ...geoid });
    const { world: other } = await terrainIn('terrain: ../low.tif', plain);
    const at = lonLat(10.0031, 47.0007);
    expect(there(world.terrain).groundAt(at)).toBe(there(other.terrain).groundAt(at));
  });

  test('another geoid grid under the same name gives other ground', async () => {
    const at = lonLat(10, 47);
    const grounds: (number | undefined)[] = [];
    for (const height of [10, 20]) {
      const files = { ...ellipsoidal, '/house/geoid.gtx': makeGtx({ ...WORLD, value: () => height }) };
      const { world } = await terrainIn('terrain: ../high.tif\ngeoid: ../geoid.gtx', files);
      grounds.push(there(world.terrain).groundAt(at));
    }
    expect((grounds[0] ?? Number.NaN) - (grounds[1] ?? Number.NaN)).toBeCloseTo(10, 5);
  });
});

const EGM96 = 'geodesy/egm96_15.gtx';
const ELLIPSOIDAL = 'terrain/derived_presidential_ellipsoidal_epsg4979.tif';
const ABOVE_SEA = 'terrain/derived_presidential_4326_cog.tif';

describe.skipIf(![EGM96, ELLIPSOIDAL, ABOVE_SEA].every(hasReferenceData))(
  `the geoid EGM96 (${NEEDS_REFERENCE_DATA})`,
  () => {
    const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(inReferenceData(path)));

    test('lies 27.52 m below the ellipsoid at Mount Washington', async () => {
      // The figure that the data's own record gives for the cell of the summit.
      const geoid = await geoidAround(bytesOf(EGM96), [-71.4, 44.2, -71.2, 44.4]);
      expect(geoid?.undulationAt(lonLat(-71.30333, 44.27083))).toBeCloseTo(-27.52, 2);
    });

    test('has the published undulations of its test points', async () => {
      // Latitude, longitude and undulation of the test run of NGA's program F477 for EGM96 (OUTPUT.DAT), from memory. They
      // are of the full harmonic series; a grid of 15 minutes of arc smooths that by some decimetres.
      const cases = [
        [38.628155, 269.779155, -31.628],
        [-14.621217, 305.021114, -2.969],
        [46.874319, 102.448729, -43.575],
        [-23.617446, 133.874712, 15.871],
        [38.625473, 359.9995, 50.066],
        [-0.466744, 0.0023, 17.329],
      ] as const;
      for (const [lat, lon, published] of cases) {
        const east = lon > 180 ? lon - 360 : lon;
        const geoid = await geoidAround(bytesOf(EGM96), [east - 0.1, lat - 0.1, east + 0.1, lat + 0.1]);
        expect(Math.abs((geoid?.undulationAt(lonLat(east, lat)) ?? Number.NaN) - published)).toBeLessThan(0.4);
      }
    });

    test('brings the ellipsoidal heights of the Presidential Range to those above mean sea level', async () => {
      const plan = (terrain: string): string =>
        `mission: 1\nterrain: data:${terrain}\ngeoid: data:egm96.gtx\nroute:\n  - take-off: a\n    at: 44.2601, -71.3201\n  - point: b\n    at: 44.2799, -71.2899\n    altitude: 2000 m AMSL\n`;
      const files = memoryFiles({
        [DOCUMENT]: '',
        '/data/egm96.gtx': bytesOf(EGM96),
        '/data/high.tif': bytesOf(ELLIPSOIDAL),
        '/data/low.tif': bytesOf(ABOVE_SEA),
      });
      const high = await load('', files, { plan: plan('high.tif') });
      const low = await load('', files, { plan: plan('low.tif') });
      expect([...high.problems, ...low.problems]).toEqual([]);
      let worst = 0;
      for (let i = 0; i <= 40; i++) {
        for (let j = 0; j <= 40; j++) {
          const at = lonLat(-71.32 + (0.03 * i) / 40, 44.26 + (0.02 * j) / 40);
          const one = there(high.world.terrain).groundAt(at) ?? Number.NaN;
          const other = there(low.world.terrain).groundAt(at) ?? Number.NaN;
          worst = Math.max(worst, Math.abs(one - other));
        }
      }
      expect(worst).toBeLessThan(0.05);
    });
  },
);

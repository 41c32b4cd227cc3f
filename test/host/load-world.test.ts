import { describe, expect, test } from 'vitest';
import type { Box } from '../../server/src/geo/box.ts';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { worldCache } from '../../server/src/host/load-world.ts';
import { degrees, lonLat } from '../../server/src/units/frames.ts';
import type { Files } from '../../server/src/world/files.ts';
import { DOCUMENT, load, reasonOf, there, tiff } from '../support/load-plan.ts';
import { memoryFiles } from '../support/memory-files.ts';

const zones = (more: object = {}, features: readonly object[] = []): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    edition: '2026-06',
    retrieved: '2026-06-02T00:00:00Z',
    ...more,
    features,
  });
const AIRCRAFT = 'aircraft: 1\nname: bittern-2\nmass: 1.2 kg\n';
const here: Box = { west: degrees(10), south: degrees(46.99), east: degrees(10.01), north: degrees(47.01) };

describe('everything named and sound', () => {
  const files = memoryFiles({
    [DOCUMENT]: '',
    '/house/world/ground.tif': tiff({ dateTime: '2026:03:09 12:00:00', keys: { 4096: 5773 } }),
    '/house/world/zones.geojson': zones({ covers: [9, 46, 11, 48] }),
    '/house/world/masts.geojson': JSON.stringify({
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          properties: { name: 'mast', top: '85 m AGL' },
          geometry: { type: 'Point', coordinates: [10, 47] },
        },
      ],
    }),
    '/house/fleet/b.aircraft.yaml': AIRCRAFT,
  });
  const head = `terrain: ../world/ground.tif
airspace: [../world/zones.geojson]
obstacles: { files: [../world/masts.geojson] }
aircraft: ../fleet/b.aircraft.yaml`;

  test('is loaded without a problem, with where it comes from', async () => {
    const { world, problems } = await load(head, files);
    expect(problems).toEqual([]);
    expect(there(world.terrain).groundAt(lonLat(10, 47))).toBeCloseTo(500, 3);
    expect(there(world.airspace).covers(here)).toBe(true);
    expect(there(world.obstacles)).toMatchObject([{ name: 'mast', top: { aboveGround: 85 } }]);
    expect(world.obstaclesIncomplete).toBeUndefined();
    expect(there(world.aircraft)).toMatchObject({ document: '/house/fleet/b.aircraft.yaml', mass: { value: 1.2 } });
    expect(world.data.map(({ name }) => name)).toEqual([
      '../world/ground.tif',
      '../world/zones.geojson',
      '../world/masts.geojson',
      '../fleet/b.aircraft.yaml',
    ]);
    expect(world.data[0]?.edition).toMatch(/^2026-03-09 12:00:00; vertical error not stated/);
    expect(world.data[1]).toEqual({
      name: '../world/zones.geojson',
      edition: '2026-06',
      retrieved: '2026-06-02T00:00:00Z',
    });
    // The time that the disk shows is that of a copy; it tells nothing about the data.
    expect(world.data[2]).toEqual({ name: expect.any(String), edition: 'not stated' });
  });

  test('is the same where only whole files can be read', async () => {
    const parts = await load(head, files);
    const contents = Object.fromEntries(
      await Promise.all(
        [
          DOCUMENT,
          '/house/world/ground.tif',
          '/house/world/zones.geojson',
          '/house/world/masts.geojson',
          '/house/fleet/b.aircraft.yaml',
        ].map(async (path) => [path, await files.read(path)] as const),
      ),
    );
    const whole = await load(head, memoryFiles(contents, { reads: 'whole' }));
    expect(whole.world.data).toEqual(parts.world.data);
    const path = legPath(lonLat(10, 47), lonLat(10.01, 47.003));
    expect(there(whole.world.terrain).groundAlong(path)).toEqual(there(parts.world.terrain).groundAlong(path));
  });

  test('an edit that stays near reads nothing again and keeps the same terrain', async () => {
    const cache = worldCache();
    const first = await load(head, files, { cache });
    files.reads.length = 0;
    const second = await load(head, files, { cache, east: 10.0101 });
    expect(files.reads).toEqual([]);
    expect(second.world.terrain).toBe(first.world.terrain);
    expect(second.world.airspace).toBe(first.world.airspace);
    expect(second.world.aircraft).toBe(first.world.aircraft);
    expect(second.world.data).toEqual(first.world.data);
  });

  test('a file that changed is read again, a small cache only costs time', async () => {
    const cache = worldCache(10);
    await load(head, files, { cache });
    const changed = memoryFiles({ [DOCUMENT]: '', '/house/world/ground.tif': tiff({ value: () => 7 }) });
    const { world } = await load('terrain: ../world/ground.tif', changed, { cache });
    expect(there(world.terrain).groundAt(lonLat(10, 47))).toBe(7);
  });
});

describe('nothing named', () => {
  test('each part says that the plan names none', async () => {
    const { world, problems } = await load('', memoryFiles({ [DOCUMENT]: '' }));
    expect(problems).toEqual([]);
    expect(reasonOf(world.terrain)).toBe('the plan names no terrain');
    expect(reasonOf(world.airspace)).toBe('the plan names no airspace');
    expect(reasonOf(world.obstacles)).toBe('the plan names no obstacles');
    expect(reasonOf(world.aircraft)).toBe('the plan names no aircraft');
    expect(world.data).toEqual([]);
  });

  test('a plan without a position has no ground to look up, and its references are still followed', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', '/house/world/ground.tif': tiff() });
    const plan = 'mission: 1\nterrain: [../world/ground.tif, ../world/gone.tif]\n';
    const { world, problems } = await load('', files, { plan });
    expect(reasonOf(world.terrain)).toContain('no position');
    expect(problems).toEqual(['../world/gone.tif does not exist']);
  });

  test('obstacles that are stated to be none are a list of none', async () => {
    const { world } = await load('obstacles: { none-above: 20 m AGL, seen: 2026-06-12, by: pilot }', memoryFiles({}));
    expect(there(world.obstacles)).toEqual([]);
  });
});

describe('a reference that fails is a problem of its own, and the rest is kept', () => {
  test.each([
    ['terrain: ../world/gone.tif', 'does not exist'],
    ['terrain: ../../secret.tif', "leads out of the plan's repository"],
    ['terrain: ../world/notes.txt', 'is no terrain file that is read'],
    ['terrain: ../world/broken.tif', 'is not a TIFF file'],
    ['terrain: ../world/zip.tif', 'is a zip archive'],
    ['terrain: ../world/far.tif', "does not reach the plan's area"],
    ['terrain: ../world/empty.hgt', 'not named after its south-west corner'],
    ['terrain: ../world/N47E010.hgt', 'is empty'],
    ['terrain: ../world/docs', 'is a folder without terrain tiles'],
    ['airspace: [../world/gone.geojson]', 'does not exist'],
    ['airspace: [../world]', 'is a folder'],
    ['airspace: [../world/broken.tif]', 'is not JSON'],
    ['obstacles: { files: [../world/gone.geojson] }', 'does not exist'],
    ['aircraft: ../fleet/gone.aircraft.yaml', 'does not exist'],
    ['aircraft: ../world', 'is a folder'],
    ['aircraft: file:///etc/passwd', 'holds a ":"'],
  ])('%s', async (head, reason) => {
    const files = memoryFiles({
      [DOCUMENT]: '',
      '/secret.tif': tiff(),
      '/house/world/broken.tif': 'no raster',
      '/house/world/zip.tif': Uint8Array.of(0x50, 0x4b, 3, 4, 1, 2, 3, 4, 5, 6),
      '/house/world/notes.txt': 'notes',
      '/house/world/far.tif': tiff({ x: 40 }),
      '/house/world/empty.hgt': '',
      '/house/world/N47E010.hgt': '',
      '/house/world/docs/readme.md': '',
    });
    const { world, problems } = await load(head, files);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain(reason);
    const part = head.startsWith('terrain')
      ? world.terrain
      : head.startsWith('airspace')
        ? world.airspace
        : head.startsWith('obstacles')
          ? world.obstacles
          : world.aircraft;
    // A file that was read and holds nothing usable leaves no zone, and covers nothing.
    if (reason === 'is not JSON') expect(there(world.airspace).covers(here)).toBe(false);
    else expect(reasonOf(part)).toContain(reason);
  });

  test('a sound terrain beside a broken one is used', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', '/house/world/a.tif': 'x', '/house/world/b.tif': tiff() });
    const { world, problems } = await load('terrain: [../world/a.tif, ../world/b.tif]', files);
    expect(problems).toEqual(['../world/a.tif is not a TIFF file']);
    expect(there(world.terrain).groundAt(lonLat(10, 47))).toBeCloseTo(500, 3);
  });

  test('an airspace file that could not be read leaves nothing covered, and the zones of the others stay', async () => {
    const zone = {
      type: 'Feature',
      properties: { name: 'quarry', kind: 'restricted', floor: 'surface', ceiling: 'unlimited' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [10, 47],
            [10.1, 47],
            [10.1, 47.1],
            [10, 47],
          ],
        ],
      },
    };
    const files = memoryFiles({ [DOCUMENT]: '', '/house/world/z.geojson': zones({ covers: [9, 46, 11, 48] }, [zone]) });
    const { world } = await load('airspace: [../world/z.geojson, ../world/gone.geojson]', files);
    const airspace = there(world.airspace);
    expect(airspace.zonesIn(here).map(({ name }) => name)).toEqual(['quarry']);
    expect(airspace.covers(here)).toBe(false);
    const whole = there((await load('airspace: [../world/z.geojson]', files)).world.airspace);
    expect(whole.covers(here)).toBe(true);
    expect(whole.covers({ ...here, east: degrees(12) })).toBe(false);
  });

  test('an airspace file that does not say what it covers covers nothing', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', '/house/world/z.geojson': zones() });
    expect(there((await load('airspace: [../world/z.geojson]', files)).world.airspace).covers(here)).toBe(false);
  });

  test('the ground of a zone that could not be used is not covered, the ground beside it is', async () => {
    const faulty = {
      type: 'Feature',
      properties: { name: 'quarry', kind: 'restricted', floor: 'surface' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [10, 47],
            [10.1, 47],
            [10.1, 47.1],
            [10, 47],
          ],
        ],
      },
    };
    const files = memoryFiles({
      [DOCUMENT]: '',
      '/house/world/z.geojson': zones({ covers: [9, 46, 11, 48] }, [faulty]),
    });
    const airspace = there((await load('airspace: [../world/z.geojson]', files)).world.airspace);
    expect(airspace.covers(here)).toBe(false);
    expect(airspace.covers({ west: degrees(9.1), south: degrees(47), east: degrees(9.2), north: degrees(47.1) })).toBe(
      true,
    );
  });

  test('obstacles that could not all be read are kept and told to be incomplete', async () => {
    const files = memoryFiles({
      [DOCUMENT]: '',
      '/house/world/m.geojson': JSON.stringify({
        type: 'FeatureCollection',
        features: [
          {
            type: 'Feature',
            properties: { name: 'mast', top: '85 m AGL' },
            geometry: { type: 'Point', coordinates: [10, 47] },
          },
          { type: 'Feature', properties: { name: 'pole' }, geometry: { type: 'Point', coordinates: [10, 47] } },
        ],
      }),
    });
    const { world, problems } = await load('obstacles: { files: [../world/m.geojson] }', files);
    expect(there(world.obstacles)).toHaveLength(1);
    expect(world.obstaclesIncomplete?.missing).toContain('could not be read');
    expect(problems[0]).toContain('"pole"');
  });

  test('a reference named twice is told once', async () => {
    const { problems } = await load('terrain: [../world/gone.tif, ../world/gone.tif]', memoryFiles({ [DOCUMENT]: '' }));
    expect(problems).toHaveLength(1);
  });

  test('an error of a kind that nobody foresaw does not get out', async () => {
    const files = memoryFiles({ [DOCUMENT]: '', '/house/world/ground.tif': tiff() });
    const failing: Files = {
      ...files,
      readPart: async () => {
        throw new TypeError('insides');
      },
    };
    const { problems } = await load('terrain: ../world/ground.tif', failing);
    expect(problems).toEqual(['../world/ground.tif could not be read; it may be damaged']);
  });
});

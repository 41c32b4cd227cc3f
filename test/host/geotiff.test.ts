import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import { fromArrayBuffer } from 'geotiff';
import { describe, expect, test } from 'vitest';
import type { Box } from '../../server/src/geo/box.ts';
import { byteSource } from '../../server/src/host/raster/byte-source.ts';
import { crsOf } from '../../server/src/host/raster/crs.ts';
import { openGeoTiff, readGeoTiff } from '../../server/src/host/raster/geotiff.ts';
import { gridOf, type RasterPart } from '../../server/src/host/raster/raster-part.ts';
import { degrees, type LonLat, lonLat } from '../../server/src/units/frames.ts';
import { type GeoTiffOptions, makeGeoTiff } from '../support/make-raster.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const box = (west: number, south: number, east: number, north: number): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

const read = async (
  bytes: Uint8Array,
  where: Box,
  reads: 'parts' | 'whole' = 'parts',
): Promise<RasterPart | undefined> => {
  const files = memoryFiles({ '/raster.tif': bytes }, { reads });
  const stat = await files.stat('/raster.tif');
  if (stat === undefined) throw new Error('the file is not there');
  const source = await byteSource(files, '/raster.tif', stat);
  return readGeoTiff(source, await openGeoTiff(source), where);
};

const readThere = async (bytes: Uint8Array, where: Box): Promise<RasterPart> => {
  const part = await read(bytes, where);
  if (part === undefined) throw new Error('the raster was not met');
  return part;
};

const refusal = async (bytes: Uint8Array, where: Box = HERE): Promise<string> => {
  try {
    await read(bytes, where);
  } catch (error) {
    return error instanceof Error ? `${error.name}: ${error.message}` : '';
  }
  return 'not refused';
};

/** Bilinear height at a place, from the grid alone. */
const heightAt = (part: RasterPart, at: LonLat): number => {
  const grid = gridOf(part, at);
  const { x, y } = grid.toGrid(at);
  const column = Math.floor(x);
  const row = Math.floor(y);
  const node = (c: number, r: number): number => {
    const within = c >= 0 && r >= 0 && c < grid.columns && r < grid.rows;
    return within ? (grid.heights[r * grid.columns + c] ?? Number.NaN) : Number.NaN;
  };
  const fx = x - column;
  const fy = y - row;
  const top = node(column, row) * (1 - fx) + node(column + 1, row) * fx;
  const bottom = node(column, row + 1) * (1 - fx) + node(column + 1, row + 1) * fx;
  return top * (1 - fy) + bottom * fy;
};

const HERE = box(9.99, 46.99, 10.01, 47.01);
const SMALL: GeoTiffOptions = {
  columns: 40,
  rows: 30,
  x: 9.98,
  y: 47.015,
  stepX: 0.001,
  stepDown: 0.001,
  epsg: 4326,
  value: (column, row) => 100 + column + 2 * row,
};
/** The height that SMALL has at its node in a column and row. */
const node = (column: number, row: number): LonLat => lonLat(9.98 + column * 0.001, 47.015 - row * 0.001);

describe('nodes lie where the file says', () => {
  test.each([
    ['pixels that are areas have them in their middle', {}],
    ['pixels that are points have them on the tie point', { pixelIs: 'point' as const }],
    ['a matrix without rotation places them', { matrix: { skew: 0 } }],
    ['in a big-endian file', { byteOrder: 'big' as const }],
    ['in a BigTIFF', { big: true }],
    ['in a big-endian BigTIFF of many strips', { byteOrder: 'big' as const, big: true, rowsPerStrip: 1 }],
    ['in strips whose last one is shorter', { rowsPerStrip: 7 }],
    ['in 64-bit floating point', { sample: 'float64' as const }],
    ['in 16-bit whole numbers', { sample: 'int16' as const }],
    ['in unsigned whole numbers', { sample: 'uint16' as const }],
    ['in 32-bit whole numbers', { sample: 'int32' as const }],
  ])('%s', async (_, more) => {
    const part = await readThere(makeGeoTiff({ ...SMALL, ...more }), HERE);
    expect(heightAt(part, node(20, 15))).toBeCloseTo(150, 6);
    expect(heightAt(part, node(12, 10))).toBeCloseTo(132, 6);
    expect(heightAt(part, node(20.5, 15.5))).toBeCloseTo(151.5, 6);
  });

  test('rows that go north are read as they stand', async () => {
    const bytes = makeGeoTiff({ ...SMALL, y: 46.986, stepDown: -0.001, matrix: { skew: 0 } });
    const part = await readThere(bytes, HERE);
    expect(heightAt(part, lonLat(10, 46.986 + 0.014))).toBeCloseTo(100 + 20 + 28, 6);
  });

  test('a raster across the 180° meridian is whole, whichever way its longitudes count', async () => {
    for (const x of [179.98, -180.02]) {
      const bytes = makeGeoTiff({ ...SMALL, x });
      const part = await readThere(bytes, box(179.99, 46.99, -179.99, 47.01));
      expect(heightAt(part, lonLat(179.999, 47))).toBeCloseTo(100 + 19 + 30, 4);
      expect(heightAt(part, lonLat(-179.999, 47))).toBeCloseTo(100 + 21 + 30, 4);
    }
  });

  test('only the window is read, and it is the same ground', async () => {
    const bytes = makeGeoTiff({ ...SMALL, columns: 400, rows: 300, rowsPerStrip: 8 });
    const part = await readThere(bytes, box(10.1, 46.9, 10.11, 46.91));
    expect(part.columns).toBeLessThan(30);
    expect(part.rows).toBeLessThan(30);
    expect(heightAt(part, node(124, 110))).toBeCloseTo(100 + 124 + 220, 4);
  });

  test('whole-file reads give the same as reads in parts', async () => {
    const bytes = makeGeoTiff({ ...SMALL, rowsPerStrip: 3 });
    const whole = await read(bytes, HERE, 'whole');
    const parts = await read(bytes, HERE);
    expect(whole?.heights).toEqual(parts?.heights);
  });

  test('a box elsewhere meets nothing', async () => {
    expect(await read(makeGeoTiff(SMALL), box(20, 46, 20.1, 46.1))).toBeUndefined();
  });
});

describe('numbers become metres above mean sea level', () => {
  test('no-data values, NaN and heights that no ground has are missing', async () => {
    const strange = [-3.4028234663852886e38, Number.NaN, -9999, -32768, 20_000];
    const bytes = makeGeoTiff({
      ...SMALL,
      noData: '-3.4028234663852886e+38',
      value: (column, row) => (row === 15 ? (strange[column - 10] ?? 50) : 50),
    });
    const part = await readThere(bytes, HERE);
    for (let column = 10; column < 15; column++) expect(heightAt(part, node(column, 15))).toBeNaN();
    expect(heightAt(part, node(15, 15))).toBeCloseTo(50, 6);
    expect(part.notes.join(' ')).toContain('3 heights that no ground on Earth has');
  });

  test('a no-data value of whole numbers is missing, and zero can be one', async () => {
    const bytes = makeGeoTiff({ ...SMALL, sample: 'int16', noData: '0', value: (column) => (column === 20 ? 0 : 7) });
    const part = await readThere(bytes, HERE);
    expect(heightAt(part, node(20, 15))).toBeNaN();
    expect(heightAt(part, node(15, 15))).toBe(7);
  });

  test.each([
    ['feet by key', { keys: { 4099: 9002 } }, 1000 * 0.3048],
    ['US survey feet by key', { keys: { 4099: 9003 } }, (1000 * 1200) / 3937],
    ['a height system in US survey feet', { keys: { 4096: 6360 } }, (1000 * 1200) / 3937],
    ['a height system in metres', { keys: { 4096: 5773 } }, 1000],
    ['feet by the name of the band’s unit', { metadata: item('unittype', 'ft') }, 304.8],
    ['scale and offset', { metadata: item('scale', '0.1', item('offset', '-50', '', true), true) }, 50],
  ])('%s', async (_, more, metres) => {
    const part = await readThere(makeGeoTiff({ ...SMALL, ...more, value: () => 1000 }), HERE);
    expect(heightAt(part, node(20, 15))).toBeCloseTo(metres, 3);
  });

  test('a file that names no height system says that it was taken for granted', async () => {
    const silent = await readThere(makeGeoTiff(SMALL), HERE);
    expect(silent.notes[0]).toBe('vertical datum not stated, taken as metres above mean sea level');
    const told = await readThere(makeGeoTiff({ ...SMALL, keys: { 4096: 5773, 4099: 9001 } }), HERE);
    expect(told.notes.join()).not.toContain('datum not stated');
  });

  test('the file’s own time is its edition', async () => {
    const part = await readThere(makeGeoTiff({ ...SMALL, dateTime: '2026:03:09 12:00:00' }), HERE);
    expect(part.edition).toBe('2026-03-09 12:00:00');
  });
});

function item(role: string, text: string, more = '', bare = false): string {
  const own = `<Item name="${role.toUpperCase()}" sample="0" role="${role}">${text}</Item>${more}`;
  return bare && more === '' ? own : `<GDALMetadata>${own}</GDALMetadata>`;
}

/** LZW as TIFF 6.0 section 13 describes the encoder, written for the tests. */
const packLzw = (bytes: Uint8Array): Uint8Array => {
  const out: number[] = [];
  let held = 0;
  let bits = 0;
  let width = 9;
  const put = (code: number): void => {
    held = (held << width) | code;
    bits += width;
    while (bits >= 8) {
      out.push((held >> (bits - 8)) & 0xff);
      bits -= 8;
      held &= (1 << bits) - 1;
    }
  };
  let table = new Map<string, number>();
  const reset = (): void => {
    table = new Map(Array.from({ length: 256 }, (_, i) => [String.fromCharCode(i), i]));
    width = 9;
  };
  reset();
  put(256);
  let next = 258;
  let run = '';
  for (const byte of bytes) {
    const longer = run + String.fromCharCode(byte);
    if (table.has(longer)) {
      run = longer;
      continue;
    }
    put(table.get(run) ?? 0);
    table.set(longer, next);
    next++;
    if (next === 1 << width && width < 12) width++;
    if (next === 4095) {
      put(256);
      reset();
      next = 258;
    }
    run = String.fromCharCode(byte);
  }
  if (run !== '') put(table.get(run) ?? 0);
  put(257);
  while (bits > 0) {
    out.push((held << (8 - bits)) & 0xff);
    bits = 0;
  }
  return Uint8Array.from(out);
};

const packBits = (bytes: Uint8Array): Uint8Array => {
  const out: number[] = [];
  for (let at = 0; at < bytes.length; ) {
    let same = 1;
    while (same < 128 && bytes[at + same] === bytes[at] && at + same < bytes.length) same++;
    if (same > 1) {
      out.push(257 - same, bytes[at] ?? 0);
      at += same;
    } else {
      out.push(0, bytes[at] ?? 0);
      at++;
    }
  }
  return Uint8Array.from(out);
};

const deflate = (bytes: Uint8Array): Uint8Array => new Uint8Array(deflateSync(bytes));

describe('compressed strips unpack to the same heights', () => {
  const noise = (column: number, row: number): number => ((column * 7919 + row * 104_729) % 3000) + column / 7;
  const plain = { ...SMALL, columns: 120, rows: 90, x: 9.94, y: 47.045, rowsPerStrip: 30, value: noise };
  test.each([
    ['Deflate', 8, deflate],
    ['LZW', 5, packLzw],
    ['PackBits', 32773, packBits],
  ])('%s', async (_, number, pack) => {
    for (const byteOrder of ['little', 'big'] as const) {
      const expected = await readThere(makeGeoTiff({ ...plain, byteOrder }), HERE);
      const part = await readThere(makeGeoTiff({ ...plain, byteOrder, compression: { number, pack } }), HERE);
      expect(part.heights).toEqual(expected.heights);
    }
  });

  test.each([
    ['differences of 16-bit numbers', 'int16', 2],
    ['differences of 32-bit numbers', 'int32', 2],
    ['differences of 32-bit floating point', 'float32', 3],
    ['differences of 64-bit floating point', 'float64', 3],
  ] as const)('%s, in both byte orders', async (_, sample, predictor) => {
    for (const byteOrder of ['little', 'big'] as const) {
      const expected = await readThere(makeGeoTiff({ ...plain, sample, byteOrder }), HERE);
      const options = { ...plain, sample, byteOrder, predictor, compression: { number: 8, pack: deflate } };
      expect((await readThere(makeGeoTiff(options), HERE)).heights).toEqual(expected.heights);
    }
  });

  test('a strip that the file leaves out has no heights', async () => {
    const fields = [{ tag: 279, type: 4, values: [120 * 30 * 4, 0, 120 * 30 * 4] }];
    const part = await readThere(makeGeoTiff({ ...plain, fields }), box(9.95, 46.96, 10.05, 47.04));
    expect(heightAt(part, lonLat(10, 47.045 - 0.045))).toBeNaN();
    expect(heightAt(part, lonLat(10, 47.045 - 0.02))).not.toBeNaN();
  });
});

describe('refuses, each with its reason', () => {
  test.each([
    ['an empty file', new Uint8Array(0), 'is empty'],
    ['a zip archive with a .tif name', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0, 0, 0, 8), 'zip archive'],
    ['a text', new TextEncoder().encode('II is how this text starts'), 'is not a TIFF file'],
    ['a pointer file', new TextEncoder().encode('version https://git-lfs.github.com/spec/v1\n'), 'git lfs pull'],
    ['two bytes', Uint8Array.of(0x49, 0x49), 'is not a TIFF file'],
    ['a picture of three bands', makeGeoTiff({ ...SMALL, sample: 'uint8', bands: 3 }), 'has 3 bands'],
    ['grey values of 8 bits', makeGeoTiff({ ...SMALL, sample: 'uint8' }), '8-bit grey values'],
    ['a raster without a place', makeGeoTiff({ ...SMALL, unplaced: true }), 'does not say where it lies'],
    ['a rotated raster', makeGeoTiff({ ...SMALL, matrix: { skew: 0.0001 } }), 'is rotated'],
    [
      'no coordinate system',
      makeGeoTiff({ ...SMALL, epsg: undefined } as never),
      'does not say in which coordinate system',
    ],
    ['NAD27', makeGeoTiff({ ...SMALL, epsg: 4267 }), 'NAD27'],
    ['NAD27 / UTM 10N', makeGeoTiff({ ...SMALL, epsg: 26710 }), 'NAD27'],
    ['ED50 / UTM 32N', makeGeoTiff({ ...SMALL, epsg: 23032 }), 'ED50'],
    ['an unknown projection', makeGeoTiff({ ...SMALL, epsg: 3413 }), 'EPSG:3413'],
    ['a system of its own', makeGeoTiff({ ...SMALL, epsg: 32767, model: 'projected' }), 'of its own'],
    ['heights above the ellipsoid', makeGeoTiff({ ...SMALL, keys: { 4096: 4979 } }), 'above the ellipsoid'],
    ['a three-dimensional system', makeGeoTiff({ ...SMALL, epsg: 4979 }), 'above the ellipsoid'],
    ['the old codes of ellipsoids', makeGeoTiff({ ...SMALL, keys: { 4096: 5030 } }), 'above the ellipsoid'],
    [
      'words of the height system',
      makeGeoTiff({ ...SMALL, citation: { key: 4097, text: 'WGS 84 Ellipsoid' } }),
      'above the ellipsoid',
    ],
    ['an unknown height system', makeGeoTiff({ ...SMALL, keys: { 4096: 5702 } }), 'EPSG:5702'],
    ['an unknown unit of height', makeGeoTiff({ ...SMALL, keys: { 4099: 9014 } }), 'EPSG:9014'],
    ['an unknown name of a unit', makeGeoTiff({ ...SMALL, metadata: item('unittype', 'fathom') }), 'unit of height'],
    ['missing heights told by a mask', makeGeoTiff({ ...SMALL, mask: true }), 'mask'],
    ['JPEG', makeGeoTiff({ ...SMALL, compression: { number: 7, pack: (strip) => strip } }), 'JPEG'],
    ['LERC', makeGeoTiff({ ...SMALL, compression: { number: 34887, pack: (strip) => strip } }), 'LERC'],
    [
      'an unknown compression',
      makeGeoTiff({ ...SMALL, compression: { number: 4242, pack: (strip) => strip } }),
      '4242',
    ],
    [
      'Deflate that is none',
      makeGeoTiff({ ...SMALL, compression: { number: 8, pack: (strip) => strip } }),
      'does not unpack',
    ],
    [
      'a Deflate strip cut short',
      makeGeoTiff({ ...SMALL, compression: { number: 8, pack: (s) => deflate(s).subarray(0, 60) } }),
      'does not unpack',
    ],
    [
      'an LZW strip cut short',
      makeGeoTiff({ ...SMALL, compression: { number: 5, pack: (s) => packLzw(s).subarray(0, 60) } }),
      'does not unpack',
    ],
    [
      'a picture of absurd size',
      makeGeoTiff({ ...SMALL, fields: [{ tag: 256, type: 4, values: [4_000_000_000] }] }),
      '4000000000',
    ],
    [
      'strips of absurd size',
      makeGeoTiff({
        ...SMALL,
        fields: [
          { tag: 256, type: 4, values: [900_000] },
          { tag: 257, type: 4, values: [900_000] },
          { tag: 278, type: 4, values: [900_000] },
        ],
      }),
      '128 MB',
    ],
    ['a list that is too short', makeGeoTiff({ ...SMALL, fields: [{ tag: 278, type: 4, values: [1] }] }), 'too short'],
  ])('%s', async (_, bytes, reason) => {
    const told = await refusal(bytes);
    expect(told).toContain(reason);
    expect(told).toMatch(/^Unreadable: [a-z]/);
  });

  test('a Deflate strip that would unpack to far more than it may stops at its size', async () => {
    // 64 MB of zeros pack to 64 kB; the strip may only hold 4800 bytes.
    const bomb = deflate(new Uint8Array(64 * 1024 * 1024));
    const bytes = makeGeoTiff({ ...SMALL, compression: { number: 8, pack: () => bomb } });
    const part = await readThere(bytes, HERE);
    expect(heightAt(part, node(20, 15))).toBe(0);
  });

  test('every cut of a file gives a reason or the same heights, never anything else', async () => {
    const whole = makeGeoTiff({ ...SMALL, rowsPerStrip: 10 });
    const expected = (await readThere(whole, HERE)).heights;
    let refused = 0;
    for (let length = 0; length < whole.length; length += 13) {
      const told = await refusal(whole.slice(0, length));
      if (told !== 'not refused') {
        refused++;
        expect(told).toMatch(/^Unreadable: /);
        continue;
      }
      expect((await readThere(whole.slice(0, length), HERE)).heights).toEqual(expected);
    }
    expect(refused).toBeGreaterThan(100);
  });

  test('every damaged byte of the directory gives a reason or some raster, never another kind of error', async () => {
    const sound = makeGeoTiff({ ...SMALL, rowsPerStrip: 10 });
    const end = sound.length - 40 * 30 * 4;
    let refused = 0;
    for (let at = 0; at < end; at++) {
      for (const value of [0, 0x7f, 0xff]) {
        const bytes = sound.slice();
        bytes[at] = value;
        const told = await refusal(bytes);
        if (told === 'not refused') continue;
        refused++;
        expect(told).toMatch(/^Unreadable: /);
      }
    }
    expect(refused).toBeGreaterThan(200);
  });

  test('a file over 32 MB where only whole files can be read', async () => {
    const files = { ...memoryFiles({ '/raster.tif': makeGeoTiff(SMALL) }, { reads: 'whole' }) };
    const stat = { kind: 'file' as const, size: 33 * 1024 * 1024, version: '1' };
    await expect(byteSource(files, '/raster.tif', stat)).rejects.toThrow(
      'is 33 MB; where only whole files can be read',
    );
  });

  test('more heights in the plan’s area than are read', async () => {
    const options = {
      ...SMALL,
      columns: 9,
      rows: 9,
      fields: [
        { tag: 256, type: 4, values: [9000] },
        { tag: 257, type: 4, values: [9000] },
        { tag: 278, type: 4, values: [1] },
      ],
    };
    const bytes = makeGeoTiff({ ...options, stepX: 0.000001, stepDown: 0.000001, x: 9.9955, y: 47.0045 });
    expect(await refusal(bytes)).toContain('81 million heights');
  });
});

describe('one surface written in several projections is one ground', () => {
  // A dome of 900 m, smooth enough that bilinear cells of some 30 m differ from it by less than 0.1 m.
  const surface = (lon: number, lat: number): number =>
    400 + 500 * Math.exp(-(((lon + 1.9) / 0.02) ** 2) - ((lat - 52.1) / 0.015) ** 2);
  const where = box(-1.93, 52.08, -1.87, 52.12);
  const centre = lonLat(-1.9, 52.1);

  /** The place of coordinates in a system, found from the forward projection alone by Newton's method. */
  const placeOf = (project: (at: LonLat) => { x: number; y: number }, x: number, y: number): LonLat => {
    let at = centre;
    for (let turn = 0; turn < 8; turn++) {
      const here = project(at);
      const east = project(lonLat(at.lon + 1e-4, at.lat));
      const north = project(lonLat(at.lon, at.lat + 1e-4));
      const a = (east.x - here.x) / 1e-4;
      const b = (north.x - here.x) / 1e-4;
      const c = (east.y - here.y) / 1e-4;
      const d = (north.y - here.y) / 1e-4;
      const det = a * d - b * c;
      const dx = x - here.x;
      const dy = y - here.y;
      at = lonLat(at.lon + (d * dx - b * dy) / det, at.lat + (a * dy - c * dx) / det);
    }
    return at;
  };

  test.each([[4326], [4258], [32630], [25830], [3857], [27700], [3035], [2154]])('EPSG:%i', async (epsg) => {
    const crs = await crsOf(epsg);
    const middle = crs.project(centre);
    const step = crs.kind === 'geographic' ? 0.0003 : epsg === 3857 ? 50 : 30;
    const side = crs.kind === 'geographic' ? 300 : 320;
    const x = middle.x - (step * side) / 2;
    const y = middle.y + (step * side) / 2;
    const bytes = makeGeoTiff({
      columns: side,
      rows: side,
      x,
      y,
      stepX: step,
      stepDown: step,
      epsg,
      sample: 'float64',
      value: (column, row) => {
        const at = placeOf(crs.project, x + column * step, y - row * step);
        return surface(at.lon, at.lat);
      },
    });
    const part = await readThere(bytes, where);
    for (let i = 0; i <= 20; i++) {
      for (let j = 0; j <= 20; j++) {
        const at = lonLat(-1.925 + 0.0025 * i, 52.085 + 0.0015 * j);
        expect(Math.abs(heightAt(part, at) - surface(at.lon, at.lat))).toBeLessThan(0.5);
      }
    }
  });

  test('a stated horizontal error becomes a vertical one by the steepest slope', async () => {
    const crs = await crsOf(27700);
    const middle = crs.project(centre);
    const ramp = { ...SMALL, columns: 200, rows: 200, x: middle.x - 3000, y: middle.y + 3000, stepX: 30, stepDown: 30 };
    const part = await readThere(makeGeoTiff({ ...ramp, epsg: 27700, value: (column) => 100 + 15 * column }), where);
    const level = await readThere(makeGeoTiff({ ...ramp, epsg: 27700, value: () => 100 }), where);
    expect(part.error - level.error).toBeCloseTo(5 * (15 / 30), 2);
  });
});

const real = (name: string): Uint8Array => new Uint8Array(readFileSync(inReferenceData(`terrain/${name}`)));

describe('real rasters', () => {
  const presidential = box(-71.45, 44.2, -71.15, 44.4);
  test.skipIf(!hasReferenceData('terrain/derived_presidential_4326_cog.tif'))(
    `Mount Washington in longitude and latitude, tiled (${NEEDS_REFERENCE_DATA})`,
    async () => {
      const part = await readThere(real('derived_presidential_4326_cog.tif'), presidential);
      expect(heightAt(part, lonLat(-72 + 836 / 1200, 45 - 875 / 1200))).toBeCloseTo(1908, 3);
      expect([...part.heights].reduce((most, height) => Math.max(most, height), 0)).toBe(1908);
    },
  );

  test.skipIf(!hasReferenceData('terrain/derived_presidential_utm19n_90m.tif'))(
    `the same mountain resampled in UTM 19N (${NEEDS_REFERENCE_DATA})`,
    async () => {
      const part = await readThere(real('derived_presidential_utm19n_90m.tif'), presidential);
      expect([...part.heights].reduce((most, height) => Math.max(most, height || 0), 0)).toBe(1904);
      // The 90 m cells are resampled from the 3 arc-second tile, so that they agree within one cell's slope.
      expect(Math.abs(heightAt(part, lonLat(-71.3033, 44.2706)) - 1906)).toBeLessThan(15);
      expect(gridOf(part, lonLat(-71.3, 44.27)).cellMetres).toBeCloseTo(90, 0);
    },
  );

  test.skipIf(!hasReferenceData('terrain/derived_presidential_ellipsoidal_epsg4979.tif'))(
    `heights above the ellipsoid are refused (${NEEDS_REFERENCE_DATA})`,
    async () => {
      expect(await refusal(real('derived_presidential_ellipsoidal_epsg4979.tif'), presidential)).toContain(
        'above the ellipsoid',
      );
    },
  );

  // ASTER GDEM of the Mongon hills, Peru: greatest height 1094 m in row 16, column 66, at -9.62502, -78.29722.
  test.skipIf(!hasReferenceData('terrain/mongon_utm17s.tif'))(
    `hills in UTM 17 south lie where they should (${NEEDS_REFERENCE_DATA})`,
    async () => {
      const part = await readThere(real('mongon_utm17s.tif'), box(-78.4, -9.7, -78.2, -9.5));
      const top = [...part.heights].reduce((best, height, i) => (height > (part.heights[best] ?? 0) ? i : best), 0);
      expect(part.heights[top]).toBe(1094);
      expect([part.row + Math.floor(top / part.columns), part.column + (top % part.columns)]).toEqual([16, 66]);
      const { x, y } = gridOf(part, lonLat(-78.3, -9.6)).toGrid(lonLat(-78.29722, -9.62502));
      expect(x + part.column).toBeCloseTo(66, 1);
      expect(y + part.row).toBeCloseTo(16, 1);
    },
  );

  test.skipIf(!hasReferenceData('terrain/sanfrancisco_3857.tif'))(
    `San Francisco in Web Mercator with pixels that are no squares (${NEEDS_REFERENCE_DATA})`,
    async () => {
      const part = await readThere(real('sanfrancisco_3857.tif'), box(-122.6, 37.6, -122.2, 37.9));
      expect(part.columns * part.rows).toBe(512 * 512);
      expect([...part.heights].reduce((most, height) => Math.max(most, height), 0)).toBeCloseTo(114.92, 2);
      expect(gridOf(part, lonLat(-122.41, 37.8)).cellMetres).toBeCloseTo(
        Math.sqrt(6.72 * 6.06) * Math.cos((37.8 * Math.PI) / 180),
        0,
      );
    },
  );

  test.skipIf(!hasReferenceData('terrain/sanfrancisco_3857_terrainrgb_expected.tif'))(
    `the same ground as a colour picture is refused (${NEEDS_REFERENCE_DATA})`,
    async () => {
      expect(await refusal(real('sanfrancisco_3857_terrainrgb_expected.tif'))).toContain('has 3 bands');
    },
  );

  // An independent reader of the same files.
  test.for([
    'derived_presidential_4326_cog.tif',
    'derived_presidential_utm19n_90m.tif',
    'mongon_utm17s.tif',
    'sanfrancisco_3857.tif',
  ])(`%s agrees pixel by pixel with the geotiff package (${NEEDS_REFERENCE_DATA})`, async (name, { skip }) => {
    if (!hasReferenceData(`terrain/${name}`)) skip('the reference data folder is absent');
    const bytes = real(name);
    const image = await (await fromArrayBuffer(bytes.slice().buffer)).getImage();
    const [band] = await image.readRasters();
    const part = await readThere(bytes, box(-180, -85, 180, 85));
    expect([part.columns, part.rows]).toEqual([image.getWidth(), image.getHeight()]);
    let compared = 0;
    for (let i = 0; i < part.heights.length; i++) {
      const height = part.heights[i] ?? Number.NaN;
      if (Number.isNaN(height)) continue;
      compared++;
      if (height !== band?.[i]) expect(height).toBe(band?.[i]);
    }
    expect(compared).toBeGreaterThan(part.heights.length / 2);
  });
});

import { describe, expect, test } from 'vitest';
import { lonLat } from '../../server/src/units/frames.ts';
import { makeGeoTiff } from '../support/make-raster.ts';
import { box, HERE, heightAt, item, node, read, readThere, SMALL } from '../support/read-raster.ts';

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

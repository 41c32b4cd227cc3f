import { describe, expect, test } from 'vitest';
import { lonLat } from '../../server/src/units/frames.ts';
import { makeGeoTiff } from '../support/make-raster.ts';
import { deflate, packBits, packLzw } from '../support/pack-strips.ts';
import { box, HERE, heightAt, readThere, refusal, SMALL } from '../support/read-raster.ts';

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

  // The strip of SMALL in 16-bit numbers, packed by the zstd program (-19, no checksum, size not stated).
  const ZSTANDARD =
    'KLUv/QBonQUAcookKhDX3SvACrACrAArwAqwAqwAl9XCJrWwSS1sUgsDAAAAAAAAAAAAAAAAUocKBQX66dOTZ6dOTpybNjVpZsrEhHnp0pJlpUpKlJMm' +
    'JUlGioQE+ejRkWOjRkaMixYVKSZKRIR46NCQYaFCQoQHDRYkOFBgQIC/vr28u7q5uLe2tbSzsrGwr66trKuqqainpqWko6IdpBD0+38H4HcDKKqqqqqq' +
    'qqqqqqqoqqqqnvPok1I=';

  test('Zstandard', async () => {
    const packed = new Uint8Array(Buffer.from(ZSTANDARD, 'base64'));
    const compression = { number: 50000, pack: () => packed };
    const part = await readThere(makeGeoTiff({ ...SMALL, sample: 'int16', compression }), HERE);
    expect(part.heights).toEqual((await readThere(makeGeoTiff({ ...SMALL, sample: 'int16' }), HERE)).heights);
  });

  test('a Zstandard strip whose blocks declare far more than the strip may hold is refused unopened', async () => {
    // A frame without stated size (RFC 8878): 100 blocks that each repeat one byte a million times.
    const blocks = Array.from({ length: 100 }, (_, i) => {
      const head = (1_000_000 << 3) | (1 << 1) | (i === 99 ? 1 : 0);
      return [head & 0xff, (head >> 8) & 0xff, (head >> 16) & 0xff, 7];
    });
    const frame = Uint8Array.from([0x28, 0xb5, 0x2f, 0xfd, 0, 0x88, ...blocks.flat()]);
    for (const bytes of [frame, frame.subarray(0, 20), Uint8Array.of(1, 2, 3)]) {
      const compression = { number: 50000, pack: () => bytes };
      expect(await refusal(makeGeoTiff({ ...SMALL, sample: 'int16', compression }))).toContain('does not unpack');
    }
  });

  test('a strip that the file leaves out has no heights', async () => {
    const fields = [{ tag: 279, type: 4, values: [120 * 30 * 4, 0, 120 * 30 * 4] }];
    const part = await readThere(makeGeoTiff({ ...plain, fields }), box(9.95, 46.96, 10.05, 47.04));
    expect(heightAt(part, lonLat(10, 47.045 - 0.045))).toBeNaN();
    expect(heightAt(part, lonLat(10, 47.045 - 0.02))).not.toBeNaN();
  });
});

import { describe, expect, test } from 'vitest';
import { byteSource } from '../../server/src/host/raster/byte-source.ts';
import { makeGeoTiff } from '../support/make-raster.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { deflate, packLzw } from '../support/pack-strips.ts';
import { HERE, heightAt, item, node, readThere, refusal, SMALL } from '../support/read-raster.ts';

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

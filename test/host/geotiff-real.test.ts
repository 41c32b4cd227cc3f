import { readFileSync } from 'node:fs';
import { fromArrayBuffer } from 'geotiff';
import { describe, expect, test } from 'vitest';
import { gridOf } from '../../server/src/host/raster/raster-part.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { box, heightAt, readThere, refusal } from '../support/read-raster.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

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

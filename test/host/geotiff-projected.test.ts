import { describe, expect, test } from 'vitest';
import { crsOf } from '../../server/src/host/raster/crs.ts';
import { type LonLat, lonLat } from '../../server/src/units/frames.ts';
import { makeGeoTiff } from '../support/make-raster.ts';
import { box, heightAt, readThere, SMALL } from '../support/read-raster.ts';

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

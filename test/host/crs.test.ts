import { readFileSync } from 'node:fs';
import proj4 from 'proj4';
import { describe, expect, test } from 'vitest';
import { crsOf } from '../../server/src/host/raster/crs.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const dms = (degrees: number, minutes: number, seconds: number): number => degrees + minutes / 60 + seconds / 3600;

const metresOff = async (code: number, lon: number, lat: number, east: number, north: number): Promise<number> => {
  const { x, y } = (await crsOf(code)).project(lonLat(lon, lat));
  return Math.hypot(x - east, y - north);
};

describe('published points', () => {
  test('Web Mercator: IOGP Guidance Note 7-2, example of EPSG:3857 (from memory)', async () => {
    expect(await metresOff(3857, -dms(100, 20, 0), dms(24, 22, 54.433), -11_169_055.58, 2_800_000)).toBeLessThan(0.02);
  });

  test('ETRS89 / LAEA Europe: IOGP Guidance Note 7-2, example of EPSG:3035 (from memory)', async () => {
    expect(await metresOff(3035, 5, 50, 3_962_799.45, 2_999_718.85)).toBeLessThan(0.02);
  });

  // Ordnance Survey, test points of the OSTN15 transformation (from memory): ETRS89 and the grid. The seven parameters
  // are good for 5 m (Ordnance Survey, "A guide to coordinate systems in Great Britain", section 6.6).
  test('British National Grid by seven parameters: OSTN15 test point in the Isles of Scilly, within 5 m', async () => {
    const crs = await crsOf(27700);
    expect(crs.horizontalError).toBe(5);
    expect(await metresOff(27700, -6.29977752014, 49.9222639373, 91_492.146, 11_318.804)).toBeLessThan(5);
  });

  // Ordnance Survey, "A guide to coordinate systems in Great Britain", annex C: a point on the Airy ellipsoid.
  test('British National Grid, the projection alone: the worked example of the Ordnance Survey, within 1 cm', () => {
    const grid =
      '+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +units=m +no_defs';
    const [east, north] = proj4('+proj=longlat +ellps=airy +no_defs', grid, [dms(1, 43, 4.5177), dms(52, 39, 27.2531)]);
    expect(east).toBeCloseTo(651_409.903, 2);
    expect(north).toBeCloseTo(313_177.27, 2);
  });

  // swisstopo, "Formulas and constants for the calculation of the Swiss conformal cylindrical projection" (from memory):
  // 46° 2' 38.87" N, 8° 43' 49.79" E is 2700000, 1100000.
  test('Swiss LV95 and LV03: the worked example of swisstopo, within 1 m', async () => {
    const lon = dms(8, 43, 49.79);
    const lat = dms(46, 2, 38.87);
    expect(await metresOff(2056, lon, lat, 2_700_000, 1_100_000)).toBeLessThan(1);
    expect(await metresOff(21781, lon, lat, 700_000, 100_000)).toBeLessThan(1);
  });

  // T. Strang van Hees and F. H. Schreutelkamp, "Benaderingsformules voor de transformatie tussen RD- en
  // WGS84-kaartcoördinaten", 2001 (from memory): the origin 155000, 463000 is 52.15517440 N, 5.38720621 E.
  test('Amersfoort / RD New: the origin, within 1 m', async () => {
    expect(await metresOff(28992, 5.38720621, 52.1551744, 155_000, 463_000)).toBeLessThan(1);
  });

  // J. P. Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987), pp. 292 and 296 (from
  // memory): the worked examples on the Clarke 1866 ellipsoid show that the projections themselves are right.
  test('Albers and Lambert: the worked examples of USGS Professional Paper 1395, within 0.1 m', () => {
    const from = '+proj=longlat +ellps=clrk66 +no_defs';
    const albers =
      '+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 +x_0=0 +y_0=0 +ellps=clrk66 +units=m +no_defs';
    const lambert = '+proj=lcc +lat_1=33 +lat_2=45 +lat_0=23 +lon_0=-96 +x_0=0 +y_0=0 +ellps=clrk66 +units=m +no_defs';
    const [ax, ay] = proj4(from, albers, [-75, 35]);
    const [lx, ly] = proj4(from, lambert, [-75, 35]);
    expect(Math.hypot(ax - 1_885_472.7, ay - 1_535_925)).toBeLessThan(0.1);
    expect(Math.hypot(lx - 1_894_410.9, ly - 1_564_649.5)).toBeLessThan(0.1);
  });

  test('Lambert-93: the false origin lies at 46.5 N, 3 E by definition', async () => {
    expect(await metresOff(2154, 3, 46.5, 700_000, 6_600_000)).toBeLessThan(0.001);
  });
});

/** Accepted points of one operation in the regression tests of PROJ: longitude and latitude, then east and north. */
const acceptedPoints = (operation: string): readonly (readonly [number, number, number, number])[] => {
  const text = readFileSync(inReferenceData('geodesy/gie/builtins.gie'), 'utf8');
  const start = text.indexOf(`operation ${operation}`);
  const end = text.indexOf('operation ', start + 10);
  const [block = ''] = start < 0 ? [] : text.slice(start, end).split('direction inverse');
  return [...block.matchAll(/^accept\s+(\S+)\s+(\S+)\s*\nexpect\s+(\S+)\s+(\S+)/gm)].map(
    ([, lon, lat, x, y]) => [Number(lon), Number(lat), Number(x), Number(y)] as const,
  );
};

describe(`UTM zone 30 against the regression tests of PROJ (${NEEDS_REFERENCE_DATA})`, () => {
  test.skipIf(!hasReferenceData('geodesy/gie/builtins.gie'))('agrees within 0.1 mm on GRS 80', async () => {
    const points = acceptedPoints('+proj=utm   +ellps=GRS80 +zone=30').filter(([, , x]) => Number.isFinite(x));
    expect(points.length).toBeGreaterThan(1);
    for (const [lon, lat, east, north] of points) {
      expect(await metresOff(25830, lon, lat, east, north)).toBeLessThan(0.0001);
    }
  });
});

describe('zones of UTM and their like', () => {
  test('every zone has its meridian at 500,000 m east, and the south its false northing', async () => {
    for (let zone = 1; zone <= 60; zone++) {
      const lon = zone * 6 - 183;
      expect(await metresOff(32600 + zone, lon, 0, 500_000, 0)).toBeLessThan(1e-6);
      expect(await metresOff(32700 + zone, lon, 0, 500_000, 10_000_000)).toBeLessThan(1e-6);
    }
  });

  test('the same zone on NAD83, ETRS89 and WGS 84 differs by less than a millimetre', async () => {
    const expected = (await crsOf(32619)).project(lonLat(-71.3, 44.27));
    for (const code of [26919, 6348])
      expect(await metresOff(code, -71.3, 44.27, expected.x, expected.y)).toBeLessThan(0.001);
    const east = (await crsOf(32633)).project(lonLat(15.5, 59));
    for (const code of [25833, 3006]) expect(await metresOff(code, 15.5, 59, east.x, east.y)).toBeLessThan(0.001);
    const finnish = (await crsOf(32635)).project(lonLat(25, 62));
    expect(await metresOff(3067, 25, 62, finnish.x, finnish.y)).toBeLessThan(0.001);
    const south = (await crsOf(32755)).project(lonLat(148, -36));
    for (const code of [28355, 7855]) expect(await metresOff(code, 148, -36, south.x, south.y)).toBeLessThan(0.001);
  });

  test('New Zealand Transverse Mercator is a zone about 173 E with its own false origin', async () => {
    const zone = (await crsOf(32760)).project(lonLat(177 + 1.5, -41));
    const { x, y } = (await crsOf(2193)).project(lonLat(173 + 1.5, -41));
    expect(x - 1_600_000).toBeCloseTo(zone.x - 500_000, 3);
    expect(y).toBeCloseTo(zone.y, 3);
  });
});

describe('what is not on the list is refused', () => {
  test.each([4267, 26710, 32017])('EPSG:%i is on NAD27, which needs grids', async (code) => {
    await expect(crsOf(code)).rejects.toThrow('NAD27');
  });

  test.each([0, 4979, 3413, 32600, 32661, 32700, 32761, 26924, 26900, 25827, 25839, 6329, 900913])(
    'EPSG:%i',
    async (code) => {
      await expect(crsOf(code)).rejects.toThrow(`EPSG:${code}`);
    },
  );
});

test('a place far from a zone is drawn to its edge and told to be out of reach', async () => {
  const crs = await crsOf(32619);
  for (const lon of [-180, -120, 0, 111, 170]) {
    const at = lonLat(lon, 44);
    const { x, y } = crs.project(at);
    expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true);
    expect(crs.reaches(at)).toBe(false);
  }
  expect(crs.reaches(lonLat(-71, 44))).toBe(true);
});

describe('the way back from each system', () => {
  test.each([
    [4326, -71.3, 44.27],
    [4326, 179.9999, -16],
    [3857, -122.4, 37.8],
    [27700, -1.5, 53.2],
    [2056, 8.1, 46.7],
    [21781, 8.1, 46.7],
    [28992, 5.9, 52.4],
    [2154, 6.2, 45.1],
    [3035, 12.3, 61.4],
    [3006, 18.1, 63.2],
    [2193, 174.8, -38.9],
    [5070, -105.3, 40.1],
    [32619, -71.3, 44.27],
    [32701, 179.9, -16.4],
    [26910, -121.1, 46.2],
  ] as const)('EPSG:%i leads to the place it came from (%d, %d)', async (code, lon, lat) => {
    const crs = await crsOf(code);
    const { x, y } = crs.project(lonLat(lon, lat));
    const back = crs.unproject(x, y);
    expect(back.lon).toBeCloseTo(lon, 6);
    expect(back.lat).toBeCloseTo(lat, 6);
  });
});

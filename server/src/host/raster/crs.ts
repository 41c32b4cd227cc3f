import { longitudeStep, wrapLongitude } from '../../geo/box.ts';
import { type LonLat, lonLat } from '../../units/frames.ts';
import { Unreadable } from '../unreadable.ts';

/**
 * The coordinate systems that a raster may be in. Others are refused with the reason: a position that is a hundred
 * metres off finds the ground of the next hill.
 *
 * Codes, parameters and accuracies are those of the EPSG Geodetic Parameter Dataset (from memory); the projections are
 * checked against published points in test/host/crs.test.ts.
 */
export interface Crs {
  readonly code: number;
  readonly kind: 'geographic' | 'projected';
  /** Stated accuracy in metres of the way from this system to WGS 84. */
  readonly horizontalError: number;
  /** Coordinates in the raster's own system: degrees, or metres east and north. Total: a place beyond `reaches` is drawn to its edge. */
  project(at: LonLat): { readonly x: number; readonly y: number };
  /** The place of coordinates in the raster's own system; the way back from `project`. */
  unproject(x: number, y: number): LonLat;
  /** Whether the projection is meant for a place. */
  reaches(at: LonLat): boolean;
}

interface Geographic {
  readonly name: string;
  readonly error: number;
}

/** Latitude and longitude in degrees, on datums that agree with WGS 84 within the error. */
const GEOGRAPHIC: ReadonlyMap<number, Geographic> = new Map([
  [4326, { name: 'WGS 84', error: 0 }],
  [4258, { name: 'ETRS89', error: 1 }],
  [4269, { name: 'NAD83', error: 4 }],
  [6318, { name: 'NAD83(2011)', error: 4 }],
  [4617, { name: 'NAD83(CSRS)', error: 4 }],
  [4283, { name: 'GDA94', error: 3 }],
  [7844, { name: 'GDA2020', error: 3 }],
  [4167, { name: 'NZGD2000', error: 1 }],
]);

interface Projected {
  readonly name: string;
  readonly definition: string;
  readonly error: number;
  /** West, south, east, north in degrees: where it is meant to be used, and some room around. */
  readonly area: readonly [number, number, number, number];
}

/** National and continental systems. `+towgs84` holds the seven parameters; no grid is used anywhere. */
const NATIONAL: ReadonlyMap<number, Projected> = new Map([
  [
    27700,
    {
      name: 'OSGB36 / British National Grid',
      definition:
        '+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy ' +
        '+towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 +units=m +no_defs',
      error: 5,
      area: [-12, 48, 6, 63],
    },
  ],
  [
    2056,
    {
      name: 'CH1903+ / LV95',
      definition:
        '+proj=somerc +lat_0=46.95240555555556 +lon_0=7.439583333333333 +k_0=1 +x_0=2600000 +y_0=1200000 ' +
        '+ellps=bessel +towgs84=674.374,15.056,405.346,0,0,0,0 +units=m +no_defs',
      error: 1,
      area: [4, 44, 13, 50],
    },
  ],
  [
    21781,
    {
      name: 'CH1903 / LV03',
      definition:
        '+proj=somerc +lat_0=46.95240555555556 +lon_0=7.439583333333333 +k_0=1 +x_0=600000 +y_0=200000 ' +
        '+ellps=bessel +towgs84=674.374,15.056,405.346,0,0,0,0 +units=m +no_defs',
      error: 2,
      area: [4, 44, 13, 50],
    },
  ],
  [
    28992,
    {
      name: 'Amersfoort / RD New',
      definition:
        '+proj=sterea +lat_0=52.1561605555556 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 +y_0=463000 ' +
        '+ellps=bessel +towgs84=565.4171,50.3319,465.5524,-0.398957388243134,0.343987817378283,-1.87740163998045,4.0725 ' +
        '+units=m +no_defs',
      error: 1,
      area: [1, 49, 10, 56],
    },
  ],
  [
    2154,
    {
      name: 'RGF93 / Lambert-93',
      definition:
        '+proj=lcc +lat_1=49 +lat_2=44 +lat_0=46.5 +lon_0=3 +x_0=700000 +y_0=6600000 +ellps=GRS80 ' +
        '+towgs84=0,0,0,0,0,0,0 +units=m +no_defs',
      error: 1,
      area: [-12, 38, 14, 54],
    },
  ],
  [
    3035,
    {
      name: 'ETRS89 / LAEA Europe',
      definition:
        '+proj=laea +lat_0=52 +lon_0=10 +x_0=4321000 +y_0=3210000 +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +units=m +no_defs',
      error: 1,
      area: [-36, 24, 50, 85],
    },
  ],
  [3006, utm('SWEREF99 TM', 33, 'north', '+ellps=GRS80 +towgs84=0,0,0,0,0,0,0', 1, 14)],
  [3067, utm('ETRS89 / TM35FIN', 35, 'north', '+ellps=GRS80 +towgs84=0,0,0,0,0,0,0', 1, 14)],
  [
    2193,
    {
      name: 'NZGD2000 / New Zealand Transverse Mercator 2000',
      definition:
        '+proj=tmerc +lat_0=0 +lon_0=173 +k=0.9996 +x_0=1600000 +y_0=10000000 +ellps=GRS80 ' +
        '+towgs84=0,0,0,0,0,0,0 +units=m +no_defs',
      error: 1,
      area: [160, -60, 180, -25],
    },
  ],
  [
    5070,
    {
      name: 'NAD83 / Conus Albers',
      definition:
        '+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 +x_0=0 +y_0=0 +ellps=GRS80 ' +
        '+towgs84=0,0,0,0,0,0,0 +units=m +no_defs',
      error: 4,
      area: [-140, 15, -55, 58],
    },
  ],
]);

/** A zone of Universal Transverse Mercator; `reach` is how many degrees beside its meridian it is used. */
function utm(
  name: string,
  zone: number,
  half: 'north' | 'south',
  datum: string,
  error: number,
  reach: number,
): Projected {
  const centre = zone * 6 - 183;
  return {
    name,
    definition: `+proj=utm +zone=${zone}${half === 'south' ? ' +south' : ''} ${datum} +units=m +no_defs`,
    error,
    area: [centre - reach, -89, centre + reach, 89],
  };
}

const UTM_REACH = 10;
const GRS80 = '+ellps=GRS80 +towgs84=0,0,0,0,0,0,0';

const utmOf = (code: number): Projected | undefined => {
  const zone = code % 100;
  const series = Math.floor(code / 100);
  if (series === 326 && zone >= 1 && zone <= 60)
    return utm(`WGS 84 / UTM ${zone}N`, zone, 'north', '+ellps=WGS84', 0, UTM_REACH);
  if (series === 327 && zone >= 1 && zone <= 60)
    return utm(`WGS 84 / UTM ${zone}S`, zone, 'south', '+ellps=WGS84', 0, UTM_REACH);
  if (series === 269 && zone >= 1 && zone <= 23) return utm(`NAD83 / UTM ${zone}N`, zone, 'north', GRS80, 4, UTM_REACH);
  if (code >= 6330 && code <= 6348)
    return utm(`NAD83(2011) / UTM ${code - 6329}N`, code - 6329, 'north', GRS80, 4, UTM_REACH);
  if (series === 258 && zone >= 28 && zone <= 38)
    return utm(`ETRS89 / UTM ${zone}N`, zone, 'north', GRS80, 1, UTM_REACH);
  if (series === 283 && zone >= 48 && zone <= 58) return utm(`GDA94 / MGA ${zone}`, zone, 'south', GRS80, 3, UTM_REACH);
  if (code >= 7846 && code <= 7859)
    return utm(`GDA2020 / MGA ${code - 7800}`, code - 7800, 'south', GRS80, 3, UTM_REACH);
  return undefined;
};

/** Datums whose way to WGS 84 needs shift grids. Without them a library gives the input back as if nothing were wrong. */
const needsGrids = (code: number): string | undefined => {
  if (code === 4267 || (code >= 26701 && code <= 26722) || (code >= 32001 && code <= 32099)) return 'NAD27';
  if (code === 4230 || (code >= 23028 && code <= 23038)) return 'ED50';
  if (code === 4202 || (code >= 20248 && code <= 20258)) return 'AGD66';
  if (code === 4203 || (code >= 20348 && code <= 20358)) return 'AGD84';
  return undefined;
};

const refuse = (code: number): Unreadable => {
  const datum = needsGrids(code);
  if (datum !== undefined) {
    return new Unreadable(
      `is in EPSG:${code} on the datum ${datum}, whose shift to WGS 84 needs grids that are not part of this program; transform it to EPSG:4326 first`,
    );
  }
  return new Unreadable(
    `is in EPSG:${code}, a coordinate system that is not read; transform it to EPSG:4326 or a UTM zone on WGS 84 first`,
  );
};

/** The radius of the sphere of Web Mercator in metres (EPSG method 1024). */
const MERCATOR_RADIUS = 6_378_137;
const MERCATOR_EDGE = 85.06;
const RADIAN = Math.PI / 180;

const clamp = (value: number, least: number, greatest: number): number => Math.max(least, Math.min(greatest, value));

const webMercator: Crs = {
  code: 3857,
  kind: 'projected',
  horizontalError: 0,
  project: ({ lon, lat }) => {
    const latitude = clamp(lat, -MERCATOR_EDGE, MERCATOR_EDGE);
    return { x: MERCATOR_RADIUS * lon * RADIAN, y: MERCATOR_RADIUS * Math.asinh(Math.tan(latitude * RADIAN)) };
  },
  unproject: (x, y) =>
    lonLat(wrapLongitude(x / MERCATOR_RADIUS / RADIAN), Math.atan(Math.sinh(y / MERCATOR_RADIUS)) / RADIAN),
  reaches: ({ lat }) => Math.abs(lat) <= MERCATOR_EDGE,
};

const projectedCrs = async (code: number, { definition, error, area }: Projected): Promise<Crs> => {
  const { default: proj4 } = await import('proj4');
  const converter = proj4(definition);
  const [west, south, east, north] = area;
  const centre = (west + east) / 2;
  const half = (east - west) / 2;
  return {
    code,
    kind: 'projected',
    horizontalError: error,
    project: ({ lon, lat }) => {
      const longitude = centre + clamp(longitudeStep(centre, lon), -half, half);
      const [x = Number.NaN, y = Number.NaN] = converter.forward([longitude, clamp(lat, south, north)]);
      return { x, y };
    },
    unproject: (x, y) => {
      const [lon = Number.NaN, lat = Number.NaN] = converter.inverse([x, y]);
      return lonLat(wrapLongitude(lon), lat);
    },
    reaches: ({ lon, lat }) => Math.abs(longitudeStep(centre, lon)) <= half && lat >= south && lat <= north,
  };
};

/** The system of an EPSG code. Rejects with `Unreadable` for every code that is not on the list. */
export const crsOf = async (code: number): Promise<Crs> => {
  if (code === 3857) return webMercator;
  const geographic = GEOGRAPHIC.get(code);
  if (geographic !== undefined) {
    return {
      code,
      kind: 'geographic',
      horizontalError: geographic.error,
      project: ({ lon, lat }) => ({ x: lon, y: lat }),
      unproject: (x, y) => lonLat(wrapLongitude(x), y),
      reaches: () => true,
    };
  }
  const projected = NATIONAL.get(code) ?? utmOf(code);
  if (projected === undefined) throw refuse(code);
  return projectedCrs(code, projected);
};

import { makeGeoTiff } from './make-raster.ts';

/**
 * The invented ground of the samples. Heights come from whole-power polynomials only, so that every JavaScript engine
 * makes the same bytes, and are rounded to quarters of a metre. No place of the real world is drawn.
 */

/** A smooth round hill: `top` metres at its middle, nothing from `reach` on. All lengths in kilometres but the heights. */
const hill = (x: number, y: number, [atX, atY]: readonly [number, number], reach: number, top: number): number => {
  const square = ((x - atX) * (x - atX) + (y - atY) * (y - atY)) / (reach * reach);
  return square >= 1 ? 0 : top * (1 - square) * (1 - square);
};

const quarters = (value: number): number => Math.round(value * 4) / 4;

/** Corner where the kilometres of the lake country count from, and the length of a degree there. */
const HOLM = { lon: -120.6, lat: 47.465, kmPerLon: 75.25, kmPerLat: 111.2 };

/** Lake Hollin: a basin filled to 410 m, Cairn Hill in the north-east, the two Hobs in the south-east, the Thimble in the west. */
export const holmGround = (lon: number, lat: number): number => {
  const x = (lon - HOLM.lon) * HOLM.kmPerLon;
  const y = (lat - HOLM.lat) * HOLM.kmPerLat;
  const basin = 406 + 6 * ((x + 0.5) * (x + 0.5) + 2 * (y - 0.2) * (y - 0.2));
  const hills =
    hill(x, y, [1.7, 1.5], 1.1, 190) +
    hill(x, y, [1.3, -1.2], 0.3, 80) +
    hill(x, y, [1.8, -1.2], 0.3, 80) +
    hill(x, y, [-1.9, 0.9], 0.24, 70);
  return quarters(Math.max(410, basin) + hills);
};

const lakes = (): Uint8Array =>
  makeGeoTiff({
    columns: 160,
    rows: 125,
    x: -120.64,
    y: 47.49,
    stepX: 0.0005,
    stepDown: 0.0004,
    sample: 'float32',
    epsg: 4326,
    pixelIs: 'point',
    // EPSG:5703 is height above NAVD 88, EPSG:9001 the metre (EPSG Geodetic Parameter Dataset, from memory).
    keys: { 4096: 5703, 4099: 9001 },
    dateTime: '2027:01:15 00:00:00',
    value: (column, row) => holmGround(-120.64 + column * 0.0005, 47.49 - row * 0.0004),
  });

/** The weir country: a river from south to north in a shallow valley, and a moraine beside it. Metres east and north, UTM 33. */
export const weirGround = (east: number, north: number): number => {
  const x = (east - 352_000) / 1000;
  const y = (north - 5_318_000) / 1000;
  const valley = 468 + 22 * Math.min(1.4, x * x) - 2 * y;
  return quarters(valley + hill(x, y, [0.7, 0.3], 0.5, 45));
};

const weir = (): Uint8Array =>
  makeGeoTiff({
    columns: 120,
    rows: 120,
    x: 350_500,
    y: 5_319_500,
    stepX: 25,
    stepDown: 25,
    sample: 'float32',
    epsg: 25833,
    pixelIs: 'point',
    // EPSG:5730 is EVRF2000 height, EPSG:9001 the metre (EPSG Geodetic Parameter Dataset, from memory).
    keys: { 4096: 5730, 4099: 9001 },
    dateTime: '2027:02:01 00:00:00',
    value: (column, row) => weirGround(350_500 + column * 25, 5_319_500 - row * 25),
  });

/** Binary files of the samples, by path below samples/. */
export const SAMPLE_RASTERS: Readonly<Record<string, () => Uint8Array>> = {
  'world/lakes.tif': lakes,
  'world/weir.tif': weir,
};

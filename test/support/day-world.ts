import { makeGeoTiff } from './make-raster.ts';

/** What the invented worlds of working days are put together from. */

const STEP = 0.0002;
const COLUMNS = 240;
const ROWS = 160;

/** A raster around a place, 0.048° by 0.032°, of heights in metres above mean sea level. */
export const dayTerrain = (
  [lon, lat]: readonly [number, number],
  height: (lon: number, lat: number) => number,
): Uint8Array => {
  const west = lon - (COLUMNS / 2) * STEP;
  const north = lat + (ROWS / 2) * STEP;
  return makeGeoTiff({
    columns: COLUMNS,
    rows: ROWS,
    x: west,
    y: north,
    stepX: STEP,
    stepDown: STEP,
    epsg: 4326,
    noData: '-9999',
    value: (column, row) => height(west + column * STEP, north - row * STEP),
  });
};

/** A file of features with the day it was retrieved and, of zones, what it covers. */
export const dayFeatures = (retrieved: string, features: readonly object[], more: object = {}): string =>
  JSON.stringify({ type: 'FeatureCollection', edition: retrieved.slice(0, 10), retrieved, ...more, features });

export const circleAt = (lon: number, lat: number, radius: string, properties: object): object => ({
  type: 'Feature',
  properties: { ...properties, radius },
  geometry: { type: 'Point', coordinates: [lon, lat] },
});

export const boxOf = (west: number, south: number, east: number, north: number, properties: object): object => ({
  type: 'Feature',
  properties,
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [west, south],
        [east, south],
        [east, north],
        [west, north],
        [west, south],
      ],
    ],
  },
});

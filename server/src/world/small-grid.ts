import { longitudeStep } from '../geo/box.ts';
import type { HeightGrid } from '../geo/height-grid.ts';
import type { LonLat } from '../units/frames.ts';

/** How a raster lies in longitude and latitude: its north-west node and the step between nodes in degrees. */
export interface Lattice {
  readonly west: number;
  readonly north: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
}

/** Metres per degree of latitude; good to 1 % anywhere, and only used to tell finer rasters from coarser ones. */
const DEGREE = 111_320;

/**
 * Node coordinates on a longitude-latitude lattice. Longitudes count from the middle of the raster, so that one that
 * crosses the 180° meridian is whole and the break lies on the far side of the earth.
 */
export const latticeCoordinates =
  (lattice: Lattice) =>
  ({ lon, lat }: LonLat): { readonly x: number; readonly y: number } => {
    const halfWidth = ((lattice.columns - 1) * lattice.step) / 2;
    return {
      x: (longitudeStep(lattice.west + halfWidth, lon) + halfWidth) / lattice.step,
      y: (lattice.north - lat) / lattice.step,
    };
  };

const gridOn = (lattice: Lattice, heights: Float64Array, errorMetres: number): HeightGrid => ({
  columns: lattice.columns,
  rows: lattice.rows,
  heights,
  toGrid: latticeCoordinates(lattice),
  cellMetres: lattice.step * DEGREE,
  errorMetres,
});

/**
 * A small raster from rows of heights in metres above mean sea level, the northernmost row first, as they lie on a map.
 * `west` and `south` are the first node's longitude and the last row's latitude. NaN is no data.
 */
export const gridFromRows = (
  west: number,
  south: number,
  step: number,
  rows: readonly (readonly number[])[],
  errorMetres = 0,
): HeightGrid => {
  const columns = rows.reduce((most, row) => Math.max(most, row.length), 0);
  const heights = new Float64Array(columns * rows.length).fill(Number.NaN);
  rows.forEach((row, y) => {
    row.forEach((height, x) => {
      heights[y * columns + x] = height;
    });
  });
  const lattice = { west, north: south + (rows.length - 1) * step, step, columns, rows: rows.length };
  return gridOn(lattice, heights, errorMetres);
};

/** A raster of a surface given by a formula: metres above mean sea level at a longitude and latitude. */
export const surfaceGrid = (
  lattice: Lattice,
  surface: (lon: number, lat: number) => number,
  errorMetres = 0,
): HeightGrid => {
  const heights = new Float64Array(lattice.columns * lattice.rows);
  for (let y = 0; y < lattice.rows; y++) {
    for (let x = 0; x < lattice.columns; x++) {
      heights[y * lattice.columns + x] = surface(lattice.west + x * lattice.step, lattice.north - y * lattice.step);
    }
  }
  return gridOn(lattice, heights, errorMetres);
};

/** Level ground at one height. */
export const flatGrid = (lattice: Lattice, height: number, errorMetres = 0): HeightGrid =>
  surfaceGrid(lattice, () => height, errorMetres);

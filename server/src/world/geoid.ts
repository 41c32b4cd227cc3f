import { type Box, longitudeStep } from '../geo/box.ts';
import { type LonLat, type Metres, metres } from '../units/frames.ts';

/** How high mean sea level lies above the WGS 84 ellipsoid: height above the ellipsoid minus this is height above the sea. */
export interface Geoid {
  /** Undefined where the grid has no value. */
  undulationAt(at: LonLat): Metres | undefined;
  /** Least and greatest over a box; undefined where any of it has no value. */
  rangeIn(box: Box): { readonly least: Metres; readonly greatest: Metres } | undefined;
}

/** A rectangle of a geoid grid: rows from south to north, columns from west to east, in degrees. NaN = no value. */
export interface GeoidWindow {
  /** Place of the first value. */
  readonly west: number;
  readonly south: number;
  readonly stepEast: number;
  readonly stepNorth: number;
  readonly columns: number;
  readonly rows: number;
  readonly undulations: Float32Array;
}

/** Node coordinates are taken to lie in the window when they leave it by no more than rounding does. */
const ROUNDING = 1e-9;

/** A cell and the place in it. */
const cellOf = (value: number, nodes: number): { readonly cell: number; readonly share: number } | undefined => {
  if (!(value >= -ROUNDING && value <= nodes - 1 + ROUNDING)) return undefined;
  const cell = Math.min(Math.max(Math.floor(value), 0), nodes - 2);
  return { cell, share: Math.min(1, Math.max(0, value - cell)) };
};

/** The geoid of a window of a grid, bilinear between its nodes. */
export const geoidOf = (window: GeoidWindow): Geoid => {
  const { west, south, stepEast, stepNorth, columns, rows, undulations } = window;
  const middle = west + (stepEast * (columns - 1)) / 2;
  const columnAt = (lon: number): number => (middle + longitudeStep(middle, lon) - west) / stepEast;
  const rowAt = (lat: number): number => (lat - south) / stepNorth;
  const node = (column: number, row: number): number => undulations[row * columns + column] ?? Number.NaN;
  const value = (x: number, y: number): number => {
    const column = cellOf(x, columns);
    const row = cellOf(y, rows);
    if (column === undefined || row === undefined) return Number.NaN;
    const along = (each: number): number =>
      (1 - column.share) * node(column.cell, each) + column.share * node(column.cell + 1, each);
    return (1 - row.share) * along(row.cell) + row.share * along(row.cell + 1);
  };
  return {
    undulationAt: ({ lon, lat }) => {
      const there = value(columnAt(lon), rowAt(lat));
      return Number.isNaN(there) ? undefined : metres(there);
    },
    rangeIn: (box) => {
      const wide = box.east >= box.west ? box.east - box.west : box.east - box.west + 360;
      const left = columnAt(box.west);
      // A bilinear cell cut by a box has its extremes at the corners of what is left of it.
      const xs = knotsBetween(left, left + wide / stepEast);
      const ys = knotsBetween(rowAt(box.south), rowAt(box.north));
      let least = Number.POSITIVE_INFINITY;
      let greatest = Number.NEGATIVE_INFINITY;
      for (const x of xs) {
        for (const y of ys) {
          const there = value(x, y);
          if (Number.isNaN(there)) return undefined;
          least = Math.min(least, there);
          greatest = Math.max(greatest, there);
        }
      }
      return { least: metres(least), greatest: metres(greatest) };
    },
  };
};

/** Both ends and the whole numbers between. */
const knotsBetween = (from: number, to: number): readonly number[] => {
  const knots = [from];
  for (let knot = Math.floor(from) + 1; knot < to; knot++) knots.push(knot);
  return [...knots, to];
};

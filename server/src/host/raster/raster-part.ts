import { type Box, longitudeStep, wrapLongitude } from '../../geo/box.ts';
import { destination } from '../../geo/geodesy.ts';
import type { HeightGrid } from '../../geo/height-grid.ts';
import { type LonLat, lonLat } from '../../units/frames.ts';
import { sayNumber } from '../../units/say.ts';
import type { Geoid } from '../../world/geoid.ts';
import type { Crs } from './crs.ts';

/** Where the nodes of a raster lie in its own coordinate system. Steps may be negative, never zero. */
export interface Lattice {
  readonly crs: Crs;
  /** Coordinates of the node in the first column and row of the whole raster. */
  readonly x: number;
  readonly y: number;
  readonly stepX: number;
  readonly stepY: number;
}

/** A rectangle of nodes of a raster, in metres above mean sea level; NaN where there is no height. */
export interface RasterPart {
  readonly lattice: Lattice;
  /** The part's first node, counted from the lattice's. */
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
  readonly heights: Float32Array | Float64Array;
  /** Vertical error of the source in metres, the horizontal one turned into height included. */
  readonly error: number;
  /** What the reader took for granted, in sentences for the list of sources. */
  readonly notes: readonly string[];
  readonly edition: string;
}

/** A rectangle of nodes, ends included. */
export interface NodeRange {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

/** More nodes than this for one plan (48 million are 192 MB) are refused. */
export const MOST_NODES = 48_000_000;

/** Continuous node coordinates of a place. `near` is a longitude in the raster, against which the place's is unwound. */
const nodeOf = (lattice: Lattice, at: LonLat, near: number): { readonly x: number; readonly y: number } => {
  const place = lattice.crs.kind === 'projected' ? at : lonLat(near + longitudeStep(near, at.lon), at.lat);
  const { x, y } = lattice.crs.project(place);
  return { x: (x - lattice.x) / lattice.stepX, y: (y - lattice.y) / lattice.stepY };
};

/** A parallel is no straight line in a projection: this many places on each side of the box follow it closely enough. */
const STATIONS = 32;
/** Degrees of longitude beyond which a box is not followed station by station. */
const WIDEST_BOX = 20;
/** Nodes beyond the box, so that the cells at its edge are whole. */
const ROOM = 3;

/** The nodes of a raster that a box needs, or undefined where the two do not meet. */
export const nodesFor = (lattice: Lattice, columns: number, rows: number, box: Box): NodeRange | undefined => {
  const middle = lattice.x + (lattice.stepX * (columns - 1)) / 2;
  const width = box.east >= box.west ? box.east - box.west : box.east - box.west + 360;
  // So wide a box has sides beyond the reach of a projection; nothing is lost by taking the whole raster.
  if (width > WIDEST_BOX) return { column: 0, row: 0, columns, rows };
  let west = Number.POSITIVE_INFINITY;
  let east = Number.NEGATIVE_INFINITY;
  let north = Number.POSITIVE_INFINITY;
  let south = Number.NEGATIVE_INFINITY;
  // The box is unwound as a whole, or its two sides could land on different ends of the raster.
  const near = lattice.crs.kind === 'projected' ? box.west : middle + longitudeStep(middle, box.west + width / 2);
  for (let i = 0; i <= STATIONS; i++) {
    for (let j = 0; j <= STATIONS; j++) {
      if (i > 0 && i < STATIONS && j > 0 && j < STATIONS) continue;
      const lon = box.west + (width * i) / STATIONS;
      const lat = box.south + ((box.north - box.south) * j) / STATIONS;
      const { x, y } = nodeOf(lattice, lonLat(lon, lat), near);
      west = Math.min(west, x);
      east = Math.max(east, x);
      north = Math.min(north, y);
      south = Math.max(south, y);
    }
  }
  const firstColumn = Math.max(0, Math.floor(west) - ROOM);
  const lastColumn = Math.min(columns - 1, Math.ceil(east) + ROOM);
  const firstRow = Math.max(0, Math.floor(north) - ROOM);
  const lastRow = Math.min(rows - 1, Math.ceil(south) + ROOM);
  if (!(lastColumn > firstColumn && lastRow > firstRow)) return undefined;
  if (east < 0 || west > columns - 1 || south < 0 || north > rows - 1) return undefined;
  return {
    column: firstColumn,
    row: firstRow,
    columns: lastColumn - firstColumn + 1,
    rows: lastRow - firstRow + 1,
  };
};

/** The middle of a box, which may cross the 180° meridian. */
export const middleOf = (box: Box): LonLat => {
  const width = box.east >= box.west ? box.east - box.west : box.east - box.west + 360;
  return lonLat(wrapLongitude(box.west + width / 2), (box.south + box.north) / 2);
};

/** Metres between neighbouring nodes about a place: the side of a square cell of the same size. */
export const cellAt = (lattice: Lattice, at: LonLat): number => {
  const here = nodeOf(lattice, at, at.lon);
  const north = nodeOf(lattice, destination(at, 0, 100), at.lon);
  const east = nodeOf(lattice, destination(at, 90, 100), at.lon);
  const area = Math.abs((north.x - here.x) * (east.y - here.y) - (east.x - here.x) * (north.y - here.y));
  return 100 / Math.sqrt(area);
};

/** Far outside every raster, and finite, so that arithmetic on it stays arithmetic. */
const FAR = { x: -1e9, y: -1e9 };

/** The grid of a part. `about` is a place near it, for the size of its cells. */
export const gridOf = (part: RasterPart, about: LonLat): HeightGrid => {
  const { lattice, columns, rows } = part;
  const near = lattice.x + lattice.stepX * (part.column + (columns - 1) / 2);
  return {
    columns,
    rows,
    heights: part.heights,
    cellMetres: cellAt(lattice, about),
    errorMetres: part.error,
    toGrid: (at) => {
      const node = nodeOf(lattice, at, near);
      const x = node.x - part.column;
      const y = node.y - part.row;
      const within = x >= 0 && y >= 0 && x <= columns - 1 && y <= rows - 1;
      if (!(Number.isFinite(x) && Number.isFinite(y))) return FAR;
      return within && !lattice.crs.reaches(at) ? FAR : { x, y };
    },
  };
};

/** Nodes count as the same when they lie within this part of a step. */
const SAME_NODE = 0.001;

/** How many columns and rows one lattice starts after another, or undefined where their nodes do not coincide. */
const shiftBetween = (from: Lattice, to: Lattice, nodes: number): { columns: number; rows: number } | undefined => {
  if (from.crs.code !== to.crs.code) return undefined;
  // A difference in the step adds up over all the nodes of the part.
  const drift = Math.abs(to.stepX / from.stepX - 1) + Math.abs(to.stepY / from.stepY - 1);
  if (!(drift * nodes < SAME_NODE)) return undefined;
  const apart = from.crs.kind === 'geographic' ? longitudeStep(from.x, to.x) : to.x - from.x;
  const columns = apart / from.stepX;
  const rows = (to.y - from.y) / from.stepY;
  if (Math.abs(columns - Math.round(columns)) > SAME_NODE || Math.abs(rows - Math.round(rows)) > SAME_NODE)
    return undefined;
  return { columns: Math.round(columns), rows: Math.round(rows) };
};

interface Together {
  readonly bounds: NodeRange;
  /** Where the second part starts, counted from the first one's lattice. */
  readonly otherColumn: number;
  readonly otherRow: number;
}

/** The nodes that two parts fill together, or undefined where they cannot be one. */
const together = (one: RasterPart, other: RasterPart): Together | undefined => {
  const nodes = Math.max(one.column + one.columns, other.column + other.columns, one.rows, other.rows);
  const shift = shiftBetween(one.lattice, other.lattice, nodes);
  if (shift === undefined) return undefined;
  const otherColumn = other.column + shift.columns;
  const otherRow = other.row + shift.rows;
  const column = Math.min(one.column, otherColumn);
  const row = Math.min(one.row, otherRow);
  const columns = Math.max(one.column + one.columns, otherColumn + other.columns) - column;
  const rows = Math.max(one.row + one.rows, otherRow + other.rows) - row;
  if (columns * rows > MOST_NODES) return undefined;
  return { bounds: { column, row, columns, rows }, otherColumn, otherRow };
};

const joinTwo = (one: RasterPart, other: RasterPart, { bounds, otherColumn, otherRow }: Together): RasterPart => {
  const { column, row, columns, rows } = bounds;
  const wide = one.heights instanceof Float64Array || other.heights instanceof Float64Array;
  const heights = wide ? new Float64Array(columns * rows) : new Float32Array(columns * rows);
  heights.fill(Number.NaN);
  const lay = (part: RasterPart, left: number, top: number): void => {
    for (let y = 0; y < part.rows; y++) {
      for (let x = 0; x < part.columns; x++) {
        const at = (top - row + y) * columns + left - column + x;
        if (Number.isNaN(heights[at])) heights[at] = part.heights[y * part.columns + x] ?? Number.NaN;
      }
    }
  };
  lay(one, one.column, one.row);
  lay(other, otherColumn, otherRow);
  return {
    ...bounds,
    lattice: one.lattice,
    heights,
    error: Math.max(one.error, other.error),
    notes: [...new Set([...one.notes, ...other.notes])],
    edition: one.edition,
  };
};

/**
 * Joins parts whose nodes lie on one lattice, so that no strip of one cell is left without ground between two tiles that
 * were cut from one raster. The rest stay apart. Where two have a height for one node, the first counts.
 */
export const joinParts = (parts: readonly RasterPart[]): readonly RasterPart[] => {
  const joined: RasterPart[] = [];
  for (const part of parts) {
    let now = part;
    for (let at = 0; at < joined.length; ) {
      const earlier = joined[at];
      const places = earlier === undefined ? undefined : together(earlier, now);
      if (earlier === undefined || places === undefined) {
        at++;
        continue;
      }
      now = joinTwo(earlier, now, places);
      joined.splice(at, 1);
      at = 0;
    }
    joined.push(now);
  }
  return joined;
};

/**
 * How much height a horizontal error can make: the error times the steepest slope between neighbouring nodes of the
 * part. `cell` is the distance of the nodes in metres.
 */
export const heightOfHorizontalError = (
  heights: Float32Array | Float64Array,
  columns: number,
  horizontalError: number,
  cell: number,
): number => {
  if (horizontalError === 0) return 0;
  let steepest = 0;
  for (let i = 0; i < heights.length; i++) {
    const here = heights[i] ?? Number.NaN;
    const right = (i + 1) % columns === 0 ? Number.NaN : (heights[i + 1] ?? Number.NaN);
    const below = heights[i + columns] ?? Number.NaN;
    const step = Math.max(Math.abs(right - here) || 0, Math.abs(below - here) || 0);
    if (step > steepest) steepest = step;
  }
  return (steepest / cell) * horizontalError;
};

/** What the plan adds to a raster. */
export interface ReadTerms {
  /** Brings heights above the ellipsoid to mean sea level. */
  readonly geoid?: Geoid;
  /** The vertical error that the plan states, in metres. */
  readonly error?: number;
}

/** The vertical error of a raster in metres, and how it is known. `cell` is the distance of the nodes in metres. */
export const statedError = (terms: ReadTerms, cell: number): { readonly error: number; readonly note: string } => {
  if (terms.error !== undefined) {
    return { error: terms.error, note: `vertical error stated in the plan, ${sayNumber(terms.error)} m` };
  }
  const error = usualError(cell);
  return { error, note: `vertical error not stated, taken as ${sayNumber(error)} m for cells of ${sayNumber(cell)} m` };
};

/** The vertical error in metres of a raster that does not state its own, by the size of its cells. */
const usualError = (cell: number): number => {
  if (cell >= 15) return SRTM_ERROR;
  return cell >= 4 ? 3 : 1;
};

/**
 * The accuracy asked of the Shuttle Radar Topography Mission was 16 m at 90 % (Farr et al., Reviews of Geophysics 45,
 * 2007, from memory); one standard deviation of a normal error is that over 1.645.
 */
export const SRTM_ERROR = 16 / 1.645;

/** No ground on Earth lies outside these (the Dead Sea's shore, Mount Everest); what does is a fill value. */
export const isGround = (height: number): boolean => height >= -500 && height <= 9000;

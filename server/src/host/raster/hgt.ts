import { type Box, boxesMeet } from '../../geo/box.ts';
import { degrees } from '../../units/frames.ts';
import { Unreadable } from '../unreadable.ts';
import type { ByteSource } from './byte-source.ts';
import { crsOf } from './crs.ts';
import {
  isGround,
  type Lattice,
  nodesFor,
  type RasterPart,
  type ReadTerms,
  SRTM_ERROR,
  statedError,
} from './raster-part.ts';

/**
 * Tiles of the Shuttle Radar Topography Mission: one degree square, 1201 or 3601 nodes a side, the outermost ones on the
 * whole degrees, 16-bit big-endian metres above the EGM96 geoid, -32768 for a void ("SRTM Topography", the mission's
 * documentation, sections 3.1 and 3.2, from memory).
 */
const VOID = -32768;
const METRES_PER_DEGREE = 111_195;
const SIDES: ReadonlyMap<number, number> = new Map([1201, 3601].map((side) => [side * side * 2, side]));

/** The south-west corner that a tile's name gives, `N44W072`, or undefined. */
export const tileCorner = (name: string): { readonly lat: number; readonly lon: number } | undefined => {
  const match = /^([NS])(\d{2})([EW])(\d{3})(?![0-9])/i.exec(name);
  if (match === null) return undefined;
  const [, half = '', north = '', side = '', east = ''] = match;
  const lat = Number(north) * (half.toUpperCase() === 'S' ? -1 : 1);
  const lon = Number(east) * (side.toUpperCase() === 'W' ? -1 : 1);
  return lat >= -90 && lat <= 89 && lon >= -180 && lon <= 179 ? { lat, lon } : undefined;
};

/** Whether the tile of a name meets a box, before anything of it is read; false for a name that is no tile's. */
export const tileMeets = (name: string, box: Box): boolean => {
  const corner = tileCorner(name);
  if (corner === undefined) return false;
  const { lat, lon } = corner;
  return boxesMeet({ west: degrees(lon), south: degrees(lat), east: degrees(lon + 1), north: degrees(lat + 1) }, box);
};

/**
 * The part of a tile that a box needs, or undefined where the two do not meet. `name` is the file's own name. Rejects
 * with `Unreadable`.
 */
export const readHgt = async (
  source: ByteSource,
  name: string,
  box: Box,
  terms: Pick<ReadTerms, 'error'> = {},
): Promise<RasterPart | undefined> => {
  const corner = tileCorner(name);
  if (corner === undefined) {
    throw new Unreadable('is not named after its south-west corner, as in N44W072.hgt, so that its place is not known');
  }
  if (source.size === 0) throw new Unreadable('is empty');
  const side = SIDES.get(source.size);
  if (side === undefined) throw await strangeSize(source);
  const step = 1 / (side - 1);
  const lattice: Lattice = { crs: await crsOf(4326), x: corner.lon, y: corner.lat + 1, stepX: step, stepY: -step };
  const nodes = nodesFor(lattice, side, side, box);
  if (nodes === undefined) return undefined;
  const bytes = await source.read(nodes.row * side * 2, nodes.rows * side * 2);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const heights = new Float32Array(nodes.columns * nodes.rows);
  for (let row = 0; row < nodes.rows; row++) {
    for (let column = 0; column < nodes.columns; column++) {
      const height = view.getInt16((row * side + nodes.column + column) * 2, false);
      heights[row * nodes.columns + column] = height === VOID || !isGround(height) ? Number.NaN : height;
    }
  }
  const told = terms.error === undefined ? undefined : statedError(terms, METRES_PER_DEGREE * step);
  return {
    ...nodes,
    lattice,
    heights,
    error: told?.error ?? SRTM_ERROR,
    notes: told === undefined ? [] : [told.note],
    edition: `SRTM tile ${tileName(corner)}`,
  };
};

const strangeSize = async (source: ByteSource): Promise<Unreadable> => {
  const head = await source.read(0, Math.min(4, source.size));
  if (head[0] === 0x50 && head[1] === 0x4b) return new Unreadable('is a zip archive; unpack it first');
  return new Unreadable(
    `has ${source.size} bytes, and an SRTM tile has 2884802 (1201 by 1201 heights) or 25934402 (3601 by 3601)`,
  );
};

const tileName = ({ lat, lon }: { readonly lat: number; readonly lon: number }): string => {
  const pad = (value: number, length: number): string => String(Math.abs(value)).padStart(length, '0');
  return `${lat < 0 ? 'S' : 'N'}${pad(lat, 2)}${lon < 0 ? 'W' : 'E'}${pad(lon, 3)}`;
};

import { type Box, longitudeStep } from '../../geo/box.ts';
import type { GeoidWindow } from '../../world/geoid.ts';
import { Unreadable } from '../unreadable.ts';
import type { ByteSource } from './byte-source.ts';

/**
 * Geoid grids in the GTX form of the VDatum software of NOAA: big-endian; latitude and longitude of the south-west node and
 * the steps north and east in degrees as four 64-bit numbers; rows and columns as two 32-bit whole numbers; then 32-bit
 * undulations in metres, row by row from the south (PROJ documentation, "Geodetic transformation", grid formats; the fill
 * value -88.8888 from memory).
 */
const HEADER = 40;
const FILL = -88.8888;
/** The geoid lies between 107 m below and 86 m above the ellipsoid; what lies farther is a fill value. */
const FARTHEST = 120;
const MOST_VALUES = 8_000_000;

interface Header {
  readonly south: number;
  readonly west: number;
  readonly stepNorth: number;
  readonly stepEast: number;
  readonly rows: number;
  readonly columns: number;
}

const noGrid = (): Unreadable => new Unreadable('is no geoid grid that is read; those are grids in GTX form (.gtx)');

const readHeader = async (source: ByteSource): Promise<Header> => {
  if (source.size === 0) throw new Unreadable('is empty');
  if (source.size < HEADER) throw noGrid();
  const bytes = await source.read(0, HEADER);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const [south = Number.NaN, west = Number.NaN, stepNorth = Number.NaN, stepEast = Number.NaN] = [0, 8, 16, 24].map(
    (at) => view.getFloat64(at, false),
  );
  const rows = view.getInt32(32, false);
  const columns = view.getInt32(36, false);
  const isPlaced = Math.abs(south) <= 90 && Math.abs(west) <= 360 && stepNorth > 0 && stepEast > 0;
  const isSound = isPlaced && rows >= 2 && columns >= 2 && stepNorth <= 30 && stepEast <= 30;
  const isOnEarth = south + stepNorth * (rows - 1) <= 90 + stepNorth && stepEast * (columns - 1) <= 360 + stepEast;
  if (!isSound || !isOnEarth) throw noGrid();
  const size = HEADER + 4 * rows * columns;
  if (source.size < size) throw new Unreadable('ends before its content does; the file is cut short or damaged');
  if (source.size > size) throw new Unreadable(`has ${source.size - size} bytes more than its header tells of`);
  return { south, west, stepNorth, stepEast, rows, columns };
};

/** Undulations differ by less than this part of a step from turn to turn of a grid around the whole Earth. */
const SAME = 1e-6;

interface Range {
  readonly first: number;
  readonly count: number;
}

/** The columns that a box needs, the next one to either side included; the first may lie before 0 on a whole turn. */
const columnsFor = ({ west, stepEast, columns }: Header, box: Box, isWhole: boolean): Range | undefined => {
  const width = box.east >= box.west ? box.east - box.west : box.east - box.west + 360;
  const middle = west + (stepEast * (columns - 1)) / 2;
  const left = (middle + longitudeStep(middle, box.west + width / 2) - width / 2 - west) / stepEast;
  const first = Math.floor(left) - 1;
  const last = Math.ceil(left + width / stepEast) + 1;
  if (isWhole) return { first, count: Math.min(last - first + 1, columns + 1) };
  const from = Math.max(0, first);
  const to = Math.min(columns - 1, last);
  return to > from ? { first: from, count: to - from + 1 } : undefined;
};

/** The part of a geoid grid that a box needs, or undefined where the two do not meet. Rejects with `Unreadable`. */
export const readGtx = async (source: ByteSource, box: Box): Promise<GeoidWindow | undefined> => {
  const header = await readHeader(source);
  const { south, west, stepNorth, stepEast, rows, columns } = header;
  const isWhole = Math.abs(columns * stepEast - 360) < SAME * stepEast;
  const across = columnsFor(header, box, isWhole);
  const firstRow = Math.max(0, Math.floor((box.south - south) / stepNorth) - 1);
  const lastRow = Math.min(rows - 1, Math.ceil((box.north - south) / stepNorth) + 1);
  if (across === undefined || !(lastRow > firstRow)) return undefined;
  const count = lastRow - firstRow + 1;
  if (count * columns > MOST_VALUES) throw new Unreadable("is too fine for so wide a plan's area; use a coarser one");
  const bytes = await source.read(HEADER + 4 * firstRow * columns, 4 * count * columns);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const undulations = new Float32Array(count * across.count);
  for (let row = 0; row < count; row++) {
    for (let i = 0; i < across.count; i++) {
      const column = (((across.first + i) % columns) + columns) % columns;
      const value = view.getFloat32(4 * (row * columns + column), false);
      const isFill = value === Math.fround(FILL) || !(Math.abs(value) <= FARTHEST);
      undulations[row * across.count + i] = isFill ? Number.NaN : value;
    }
  }
  return {
    west: west + across.first * stepEast,
    south: south + firstRow * stepNorth,
    stepEast,
    stepNorth,
    columns: across.count,
    rows: count,
    undulations,
  };
};

import { Unreadable } from '../unreadable.ts';
import type { ByteSource } from './byte-source.ts';
import { type Compression, compressionOf, decompress } from './decompress.ts';
import { readNumbers, type TiffDirectory, type TiffField } from './tiff-directory.ts';

/** How the heights lie in a TIFF file: one band, in strips or tiles (TIFF 6.0 sections 3 and 15). */
export interface HeightLayout {
  readonly width: number;
  readonly height: number;
  readonly tileWidth: number;
  readonly tileHeight: number;
  readonly tiled: boolean;
  readonly offsets: TiffField;
  readonly byteCounts: TiffField;
  readonly compression: Compression;
  readonly predictor: number;
  readonly format: SampleFormat;
  readonly bits: number;
}

type SampleFormat = 'unsigned' | 'signed' | 'float';

/** A rectangle of pixels: the first column and row, and how many of each. */
export interface PixelWindow {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

/** Largest unpacked strip or tile, and all those of one window together. */
const LARGEST_BLOCK = 128 * 1024 * 1024;
const LARGEST_WORK = 768 * 1024 * 1024;
const LARGEST_SIDE = 1_000_000;

const damaged = (what: string): Unreadable => new Unreadable(`is damaged: ${what}`);

const formatOf = (number: number): SampleFormat => {
  if (number === 1) return 'unsigned';
  if (number === 2) return 'signed';
  if (number === 3) return 'float';
  throw new Unreadable('holds numbers of a kind that is not read (whole numbers and floating point are)');
};

/** Reads and checks the layout. Rejects with `Unreadable` where the file holds no single band of heights. */
export const readLayout = async (source: ByteSource, directory: TiffDirectory): Promise<HeightLayout> => {
  const numberOf = async (tag: number, otherwise: number): Promise<number> => {
    const field = directory.field(tag);
    if (field === undefined || field.count === 0) return otherwise;
    const [value] = await readNumbers(source, directory.littleEndian, field, 0, 1);
    return value ?? otherwise;
  };
  const width = await numberOf(256, 0);
  const height = await numberOf(257, 0);
  if (!(width >= 1 && height >= 1 && width <= LARGEST_SIDE && height <= LARGEST_SIDE)) {
    throw damaged(`it declares ${width} by ${height} pixels`);
  }
  const bands = await numberOf(277, 1);
  const photometric = await numberOf(262, 1);
  if (bands !== 1) throw new Unreadable(`has ${bands} bands, as a picture has; one band of heights is needed`);
  if (photometric > 1) throw new Unreadable('is a colour picture; one band of heights is needed');
  const bits = await numberOf(258, 1);
  const format = formatOf(await numberOf(339, 1));
  if (bits <= 8) {
    throw new Unreadable(`holds ${bits}-bit grey values, as shaded relief has; heights need at least 16 bits`);
  }
  const readable = format === 'float' ? bits === 32 || bits === 64 : bits === 16 || bits === 32;
  if (!readable) throw new Unreadable(`holds ${bits}-bit numbers, which are not read (16, 32 and 64 bits are)`);
  if ((await numberOf(274, 1)) !== 1) throw new Unreadable('does not start at its top left corner, which is not read');
  if ((await numberOf(254, 0)) !== 0) throw new Unreadable('starts with a reduced picture and not with its heights');
  if (directory.hasMask) {
    throw new Unreadable('marks missing heights by a mask, which is not read; give it a no-data value instead');
  }
  const tiled = directory.field(322) !== undefined;
  const tileWidth = tiled ? await numberOf(322, 0) : width;
  const tileHeight = tiled ? await numberOf(323, 0) : Math.min(await numberOf(278, height), height);
  const offsets = directory.field(tiled ? 324 : 273);
  const byteCounts = directory.field(tiled ? 325 : 279);
  if (offsets === undefined || byteCounts === undefined) throw damaged('it does not say where its heights are');
  if (!(tileWidth >= 1 && tileHeight >= 1)) throw damaged('its parts have no size');
  if ((tileWidth * tileHeight * bits) / 8 > LARGEST_BLOCK) {
    throw new Unreadable('holds its heights in parts of more than 128 MB; write it anew in tiles');
  }
  const compression = compressionOf(await numberOf(259, 1));
  const predictor = await numberOf(317, 1);
  const predicted = predictor === 1 || (predictor === 2 && bits <= 32) || (predictor === 3 && format === 'float');
  if (!predicted) throw new Unreadable(`uses TIFF predictor ${predictor} with ${bits} bits, which is not read`);
  return { width, height, tileWidth, tileHeight, tiled, offsets, byteCounts, compression, predictor, format, bits };
};

const valueReader = ({
  format,
  bits,
}: HeightLayout): ((view: DataView, at: number, littleEndian: boolean) => number) => {
  if (format === 'float') {
    return bits === 32
      ? (view, at, order) => view.getFloat32(at, order)
      : (view, at, order) => view.getFloat64(at, order);
  }
  if (format === 'signed') {
    return bits === 16 ? (view, at, order) => view.getInt16(at, order) : (view, at, order) => view.getInt32(at, order);
  }
  return bits === 16 ? (view, at, order) => view.getUint16(at, order) : (view, at, order) => view.getUint32(at, order);
};

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Undoes horizontal differencing (TIFF 6.0 section 14) in the byte order of the file. */
const undoDifferences = (bytes: Uint8Array, rowPixels: number, bits: number, littleEndian: boolean): void => {
  const view = viewOf(bytes);
  const size = bits / 8;
  const rowBytes = rowPixels * size;
  for (let row = 0; row + rowBytes <= bytes.length; row += rowBytes) {
    let sum = 0;
    for (let at = row; at < row + rowBytes; at += size) {
      if (size === 2) {
        sum = (sum + view.getUint16(at, littleEndian)) & 0xffff;
        view.setUint16(at, sum, littleEndian);
      } else {
        sum = (sum + view.getUint32(at, littleEndian)) >>> 0;
        view.setUint32(at, sum, littleEndian);
      }
    }
  }
};

/**
 * Undoes the floating point predictor (Adobe Photoshop TIFF Technical Note 3, 2005): per row the bytes are differences,
 * ordered by significance, most significant first. The result is big-endian whatever the file is.
 */
const undoFloatDifferences = (bytes: Uint8Array, rowPixels: number, bits: number): Uint8Array => {
  const size = bits / 8;
  const rowBytes = rowPixels * size;
  const out = new Uint8Array(bytes.length);
  for (let row = 0; row + rowBytes <= bytes.length; row += rowBytes) {
    let sum = 0;
    for (let i = 0; i < rowBytes; i++) {
      sum = (sum + (bytes[row + i] ?? 0)) & 0xff;
      const plane = Math.floor(i / rowPixels);
      out[row + (i - plane * rowPixels) * size + plane] = sum;
    }
  }
  return out;
};

/**
 * The numbers in a window of pixels, row by row, as they stand in the file; NaN in blocks that the file leaves out.
 * The window must lie within the raster. Rejects with `Unreadable`.
 */
export const readPixels = async (
  source: ByteSource,
  directory: TiffDirectory,
  layout: HeightLayout,
  window: PixelWindow,
): Promise<Float32Array | Float64Array> => {
  const wide = layout.bits === 64 || (layout.bits === 32 && layout.format !== 'float');
  const pixels = wide ? new Float64Array(window.columns * window.rows) : new Float32Array(window.columns * window.rows);
  pixels.fill(Number.NaN);
  const across = Math.ceil(layout.width / layout.tileWidth);
  const firstAcross = Math.floor(window.column / layout.tileWidth);
  const lastAcross = Math.floor((window.column + window.columns - 1) / layout.tileWidth);
  const firstDown = Math.floor(window.row / layout.tileHeight);
  const lastDown = Math.floor((window.row + window.rows - 1) / layout.tileHeight);
  const blocks = (lastAcross - firstAcross + 1) * (lastDown - firstDown + 1);
  if (((blocks * layout.tileWidth * layout.tileHeight) / 8) * layout.bits > LARGEST_WORK) {
    throw new Unreadable('would need more than 768 MB unpacked for this plan; write it anew in smaller tiles');
  }
  for (let down = firstDown; down <= lastDown; down++) {
    const start = down * across + firstAcross;
    const count = lastAcross - firstAcross + 1;
    const offsets = await readNumbers(source, directory.littleEndian, layout.offsets, start, count);
    const sizes = await readNumbers(source, directory.littleEndian, layout.byteCounts, start, count);
    for (let i = 0; i < count; i++) {
      const place = { across: firstAcross + i, down, offset: offsets[i] ?? 0, packed: sizes[i] ?? 0 };
      // A file with left-out blocks ("sparse") writes 0 for both: there are no heights.
      if (place.packed === 0) continue;
      await readBlock(source, directory, layout, window, place, pixels);
    }
  }
  return pixels;
};

interface BlockPlace {
  readonly across: number;
  readonly down: number;
  readonly offset: number;
  readonly packed: number;
}

const readBlock = async (
  source: ByteSource,
  { littleEndian }: TiffDirectory,
  layout: HeightLayout,
  window: PixelWindow,
  place: BlockPlace,
  pixels: Float32Array | Float64Array,
): Promise<void> => {
  const top = place.down * layout.tileHeight;
  const left = place.across * layout.tileWidth;
  // The last strip holds only the rows that are left, a tile always all of its rows.
  const rows = layout.tiled ? layout.tileHeight : Math.min(layout.tileHeight, layout.height - top);
  const pixelBytes = layout.bits / 8;
  const size = layout.tileWidth * rows * pixelBytes;
  if (place.packed > 2 * size + 65_536) throw damaged('one of its parts is larger packed than unpacked');
  const packed = await source.read(place.offset, place.packed);
  let bytes = await decompress(layout.compression, packed, size);
  let order = littleEndian;
  if (layout.predictor === 2) {
    bytes = bytes.slice();
    undoDifferences(bytes, layout.tileWidth, layout.bits, littleEndian);
  }
  if (layout.predictor === 3) {
    bytes = undoFloatDifferences(bytes, layout.tileWidth, layout.bits);
    order = false;
  }
  const view = viewOf(bytes);
  const read = valueReader(layout);
  const fromRow = Math.max(window.row, top);
  const toRow = Math.min(window.row + window.rows, top + rows, layout.height);
  const fromColumn = Math.max(window.column, left);
  const toColumn = Math.min(window.column + window.columns, left + layout.tileWidth, layout.width);
  for (let row = fromRow; row < toRow; row++) {
    let at = ((row - top) * layout.tileWidth + fromColumn - left) * pixelBytes;
    let out = (row - window.row) * window.columns + fromColumn - window.column;
    for (let column = fromColumn; column < toColumn; column++) {
      pixels[out] = read(view, at, order);
      at += pixelBytes;
      out++;
    }
  }
};

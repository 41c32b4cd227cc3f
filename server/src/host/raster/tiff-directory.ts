import { Unreadable } from '../unreadable.ts';
import type { ByteSource } from './byte-source.ts';

/**
 * The directory of a TIFF file (TIFF 6.0, Adobe, 1992, section 2; BigTIFF with 64-bit offsets).
 *
 * It is read here and not by a library, since the one we use reads the offsets of big-endian files with the wrong byte
 * order, allocates what a damaged file declares, and takes a mask for nothing.
 */
export interface TiffDirectory {
  readonly littleEndian: boolean;
  field(tag: number): TiffField | undefined;
  /** True where a later directory of the file is a transparency mask. */
  readonly hasMask: boolean;
}

export interface TiffField {
  readonly type: number;
  readonly count: number;
  /** Place of the values in the file. */
  readonly offset: number;
}

/** Field types and their sizes in bytes (TIFF 6.0 section 2; 16 to 18 are BigTIFF's). */
const SIZES: ReadonlyMap<number, number> = new Map([
  [1, 1],
  [2, 1],
  [3, 2],
  [4, 4],
  [5, 8],
  [6, 1],
  [7, 1],
  [8, 2],
  [9, 4],
  [10, 8],
  [11, 4],
  [12, 8],
  [13, 4],
  [16, 8],
  [17, 8],
  [18, 8],
]);

const MOST_FIELDS = 1000;
const MOST_DIRECTORIES = 64;
/** More values of one field than any sound raster has; a damaged count must not fill the memory. */
const MOST_VALUES = 4_000_000;
const NEW_SUBFILE_TYPE = 254;
const MASK_BIT = 4;

const damaged = (what: string): Unreadable => new Unreadable(`is damaged: ${what}`);

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const bigNumber = (view: DataView, at: number, littleEndian: boolean): number => {
  const value = view.getBigUint64(at, littleEndian);
  if (value > BigInt(Number.MAX_SAFE_INTEGER)) throw damaged('it points outside itself');
  return Number(value);
};

/** What a file that is no TIFF seems to be, for a reason that helps. */
const refuseForeign = (head: Uint8Array): never => {
  const text = String.fromCharCode(...head.subarray(0, 16));
  if (text.startsWith('PK\u0003\u0004')) throw new Unreadable('is a zip archive; unpack it first');
  if (head[0] === 0x1f && head[1] === 0x8b) throw new Unreadable('is a gzip archive; unpack it first');
  if (text.startsWith('version https://')) {
    throw new Unreadable('is a pointer to a large file that was not fetched with the repository; run "git lfs pull"');
  }
  throw new Unreadable('is not a TIFF file');
};

interface Header {
  readonly littleEndian: boolean;
  readonly big: boolean;
  readonly first: number;
}

const readHeader = async (source: ByteSource): Promise<Header> => {
  if (source.size === 0) throw new Unreadable('is empty');
  const head = await source.read(0, Math.min(16, source.size));
  const order = head[0] === 0x49 && head[1] === 0x49 ? 'little' : head[0] === 0x4d && head[1] === 0x4d ? 'big' : 'none';
  if (order === 'none' || head.length < 8) return refuseForeign(head);
  const littleEndian = order === 'little';
  const view = viewOf(head);
  const magic = view.getUint16(2, littleEndian);
  if (magic === 42) return { littleEndian, big: false, first: view.getUint32(4, littleEndian) };
  if (magic !== 43) return refuseForeign(head);
  if (head.length < 16 || view.getUint16(4, littleEndian) !== 8) throw damaged('its header is not that of a TIFF file');
  return { littleEndian, big: true, first: bigNumber(view, 8, littleEndian) };
};

interface Directory {
  readonly fields: ReadonlyMap<number, TiffField>;
  readonly next: number;
}

const readOne = async (source: ByteSource, { littleEndian, big }: Header, at: number): Promise<Directory> => {
  const countSize = big ? 8 : 2;
  const entrySize = big ? 20 : 12;
  const countView = viewOf(await source.read(at, countSize));
  const entries = big ? bigNumber(countView, 0, littleEndian) : countView.getUint16(0, littleEndian);
  if (entries === 0 || entries > MOST_FIELDS) throw damaged(`its directory declares ${entries} fields`);
  const body = viewOf(await source.read(at + countSize, entries * entrySize + (big ? 8 : 4)));
  const fields = new Map<number, TiffField>();
  for (let i = 0; i < entries; i++) {
    const entry = i * entrySize;
    const type = body.getUint16(entry + 2, littleEndian);
    const size = SIZES.get(type);
    // TIFF 6.0 section 2: readers should skip fields with an unexpected type.
    if (size === undefined) continue;
    const count = big ? bigNumber(body, entry + 4, littleEndian) : body.getUint32(entry + 4, littleEndian);
    const valueAt = entry + (big ? 12 : 8);
    const inline = size * count <= (big ? 8 : 4);
    const pointed = (): number =>
      big ? bigNumber(body, valueAt, littleEndian) : body.getUint32(valueAt, littleEndian);
    fields.set(body.getUint16(entry, littleEndian), {
      type,
      count,
      offset: inline ? at + countSize + valueAt : pointed(),
    });
  }
  const nextAt = entries * entrySize;
  return { fields, next: big ? bigNumber(body, nextAt, littleEndian) : body.getUint32(nextAt, littleEndian) };
};

/** Reads the first directory, and looks through the others for a mask. Rejects with `Unreadable`. */
export const readDirectory = async (source: ByteSource): Promise<TiffDirectory> => {
  const header = await readHeader(source);
  const first = await readOne(source, header, header.first);
  const seen = new Set([header.first]);
  let hasMask = false;
  let next = first.next;
  while (next !== 0 && !hasMask) {
    if (seen.has(next)) throw damaged('its directories lead in a circle');
    if (seen.size >= MOST_DIRECTORIES) throw damaged(`it has more than ${MOST_DIRECTORIES} directories`);
    seen.add(next);
    const directory = await readOne(source, header, next);
    const kind = directory.fields.get(NEW_SUBFILE_TYPE);
    if (kind !== undefined) {
      const [bits] = await readNumbers(source, header.littleEndian, kind, 0, 1);
      hasMask = ((bits ?? 0) & MASK_BIT) !== 0;
    }
    next = directory.next;
  }
  return { littleEndian: header.littleEndian, field: (tag) => first.fields.get(tag), hasMask };
};

const readerOf = (type: number): ((view: DataView, at: number, littleEndian: boolean) => number) => {
  if (type === 1 || type === 2 || type === 7) return (view, at) => view.getUint8(at);
  if (type === 6) return (view, at) => view.getInt8(at);
  if (type === 3) return (view, at, order) => view.getUint16(at, order);
  if (type === 8) return (view, at, order) => view.getInt16(at, order);
  if (type === 4 || type === 13) return (view, at, order) => view.getUint32(at, order);
  if (type === 9) return (view, at, order) => view.getInt32(at, order);
  if (type === 11) return (view, at, order) => view.getFloat32(at, order);
  if (type === 12) return (view, at, order) => view.getFloat64(at, order);
  if (type === 16 || type === 18) return bigNumber;
  throw damaged('a number of its directory is of an unexpected kind');
};

/** Values `from` to `from + count` of a field that holds numbers. */
export const readNumbers = async (
  source: ByteSource,
  littleEndian: boolean,
  field: TiffField,
  from: number,
  count: number,
): Promise<readonly number[]> => {
  if (from + count > field.count) throw damaged('a list of its directory is too short');
  if (count > MOST_VALUES) throw damaged(`a list of its directory has ${count} entries`);
  const size = SIZES.get(field.type) ?? 1;
  const view = viewOf(await source.read(field.offset + from * size, count * size));
  const read = readerOf(field.type);
  const values: number[] = new Array(count);
  for (let i = 0; i < count; i++) values[i] = read(view, i * size, littleEndian);
  return values;
};

const LONGEST_TEXT = 256 * 1024;

/** The text of a field, without the NUL that ends it. A text of absurd length counts as damage. */
export const readText = async (source: ByteSource, field: TiffField): Promise<string> => {
  if (field.count > LONGEST_TEXT) throw damaged('a text of its directory is too long');
  const bytes = await source.read(field.offset, field.count);
  const end = bytes.indexOf(0);
  return new TextDecoder().decode(end < 0 ? bytes : bytes.subarray(0, end));
};

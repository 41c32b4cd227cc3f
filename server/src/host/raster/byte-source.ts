import type { FileStat, Files } from '../../world/files.ts';
import { Unreadable } from '../unreadable.ts';

/** The bytes of one file, read in the parts that are needed. */
export interface ByteSource {
  readonly size: number;
  /** Exactly `length` bytes; rejects with `Unreadable` where the file ends before. */
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** Largest file that is read whole where parts cannot be read. */
export const LARGEST_WHOLE_FILE = 32 * 1024 * 1024;

const PAGE = 64 * 1024;
/** Pages kept at hand: a raster's rows lie side by side, so that a few are enough. */
const PAGES_KEPT = 32;

const ended = (): Unreadable => new Unreadable('ends before its content does; the file is cut short or damaged');

const wholeSource = async (files: Files, location: string, size: number): Promise<ByteSource> => {
  if (size > LARGEST_WHOLE_FILE) {
    throw new Unreadable(
      `is ${Math.ceil(size / 1024 / 1024)} MB; where only whole files can be read, as in a browser, the limit is 32 MB`,
    );
  }
  const bytes = await files.read(location);
  return {
    size: bytes.length,
    read: async (offset, length) => {
      if (!(offset >= 0 && length >= 0 && offset + length <= bytes.length)) throw ended();
      return bytes.subarray(offset, offset + length);
    },
  };
};

/** A source over a file whose state is known. */
export const byteSource = async (files: Files, location: string, stat: FileStat): Promise<ByteSource> => {
  const readPart = files.readPart?.bind(files);
  if (readPart === undefined) return wholeSource(files, location, stat.size);
  const pages = new Map<number, Uint8Array>();
  const pageAt = async (index: number): Promise<Uint8Array> => {
    const kept = pages.get(index);
    if (kept !== undefined) return kept;
    const page = await readPart(location, index * PAGE, Math.min(PAGE, stat.size - index * PAGE));
    if (pages.size >= PAGES_KEPT) {
      for (const oldest of pages.keys()) {
        pages.delete(oldest);
        break;
      }
    }
    pages.set(index, page);
    return page;
  };
  return {
    size: stat.size,
    read: async (offset, length) => {
      if (!(offset >= 0 && length >= 0 && offset + length <= stat.size)) throw ended();
      const bytes = length >= PAGE ? await readPart(location, offset, length) : await fromPages(pageAt, offset, length);
      if (bytes.length !== length) throw ended();
      return bytes;
    },
  };
};

const fromPages = async (
  pageAt: (index: number) => Promise<Uint8Array>,
  offset: number,
  length: number,
): Promise<Uint8Array> => {
  const bytes = new Uint8Array(length);
  let filled = 0;
  while (filled < length) {
    const place = offset + filled;
    const page = await pageAt(Math.floor(place / PAGE));
    const piece = page.subarray(place % PAGE, (place % PAGE) + length - filled);
    // A page that is shorter than it should be: the file shrank while it was read.
    if (piece.length === 0) throw ended();
    bytes.set(piece, filled);
    filled += piece.length;
  }
  return bytes;
};

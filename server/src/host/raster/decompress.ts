import { Unreadable } from '../unreadable.ts';

/**
 * The compressions of TIFF blocks. Every one stops at the size that the block must have, so that a small damaged or
 * hostile file cannot fill the memory.
 */
export type Compression = 'none' | 'LZW' | 'Deflate' | 'PackBits' | 'Zstandard';

/** By the number of TIFF field 259. */
const COMPRESSIONS: ReadonlyMap<number, Compression> = new Map([
  [1, 'none'],
  [5, 'LZW'],
  [8, 'Deflate'],
  [32946, 'Deflate'],
  [32773, 'PackBits'],
  [50000, 'Zstandard'],
]);

const PICTURE_COMPRESSIONS: ReadonlyMap<number, string> = new Map([
  [6, 'JPEG'],
  [7, 'JPEG'],
  [50001, 'WebP'],
  [50002, 'JPEG XL'],
]);

export const compressionOf = (number: number): Compression => {
  const compression = COMPRESSIONS.get(number);
  if (compression !== undefined) return compression;
  const picture = PICTURE_COMPRESSIONS.get(number);
  if (picture !== undefined) {
    throw new Unreadable(`is compressed as ${picture}, which changes the heights; use one with Deflate or LZW`);
  }
  // The decoder at hand gives a height of zero where LERC's own mask says that there is none.
  if (number === 34887) throw new Unreadable('is compressed as LERC, which is not read; use one with Deflate or LZW');
  throw new Unreadable(`uses TIFF compression ${number}, which is not read; use one with Deflate or LZW`);
};

const damaged = (): Unreadable => new Unreadable('is damaged: a part of it does not unpack');

/** Unpacks a block into exactly `size` bytes. Rejects with `Unreadable` where the block holds less. */
export const decompress = async (compression: Compression, packed: Uint8Array, size: number): Promise<Uint8Array> => {
  if (compression === 'none') return exactly(packed, size);
  if (compression === 'LZW') return exactly(lzw(packed, size), size);
  if (compression === 'PackBits') return exactly(packBits(packed, size), size);
  if (compression === 'Deflate') return exactly(await inflate(packed, size), size);
  return exactly(await zstandard(packed, size), size);
};

const exactly = (bytes: Uint8Array, size: number): Uint8Array => {
  if (bytes.length < size) throw damaged();
  return bytes.length === size ? bytes : bytes.subarray(0, size);
};

/** zlib streams (RFC 1950) by the platform's own Compression Streams. */
const inflate = async (packed: Uint8Array, size: number): Promise<Uint8Array> => {
  const stream = new DecompressionStream('deflate');
  const writer = stream.writable.getWriter();
  // A copy, since the stream may take the buffer over. What the writer suffers, the reader tells.
  const ignore = (): void => undefined;
  writer.write(packed.slice()).catch(ignore);
  writer.close().catch(ignore);
  const reader = stream.readable.getReader();
  const out = new Uint8Array(size);
  let filled = 0;
  try {
    while (filled < size) {
      const { done, value } = await reader.read();
      if (done) break;
      const piece = value.subarray(0, size - filled);
      out.set(piece, filled);
      filled += piece.length;
    }
  } catch {
    throw damaged();
  } finally {
    await reader.cancel().catch(ignore);
  }
  return out.subarray(0, filled);
};

const CLEAR = 256;
const END = 257;
const WIDEST = 12;

/** LZW as in TIFF 6.0 section 13: most significant bit first, the code width grows one code early. */
const lzw = (packed: Uint8Array, size: number): Uint8Array => {
  const out = new Uint8Array(size);
  const prefix = new Uint16Array(4096);
  const last = new Uint8Array(4096);
  const lengths = new Uint16Array(4096);
  for (let code = 0; code < 256; code++) {
    last[code] = code;
    lengths[code] = 1;
  }
  let filled = 0;
  let next = 258;
  let width = 9;
  let previous = -1;
  let bits = 0;
  let held = 0;
  let at = 0;
  /** Writes the string of a code so that it ends where it must, and gives its first byte. */
  const write = (code: number): number => {
    const length = lengths[code] ?? 0;
    let place = filled + length - 1;
    let now = code;
    for (let i = length; i > 0; i--) {
      if (place < size) out[place] = last[now] ?? 0;
      place--;
      if (i > 1) now = prefix[now] ?? 0;
    }
    filled += length;
    return last[now] ?? 0;
  };
  while (filled < size) {
    while (held < width) {
      if (at >= packed.length) return out.subarray(0, filled);
      bits = ((bits << 8) | (packed[at] ?? 0)) & 0xffffff;
      held += 8;
      at++;
    }
    const code = (bits >> (held - width)) & ((1 << width) - 1);
    held -= width;
    if (code === END) break;
    if (code === CLEAR) {
      next = 258;
      width = 9;
      previous = -1;
      continue;
    }
    if (previous < 0) {
      if (code > 255) throw damaged();
      write(code);
    } else if (code < next) {
      const first = write(code);
      if (next < 4096) {
        prefix[next] = previous;
        last[next] = first;
        lengths[next] = (lengths[previous] ?? 0) + 1;
      }
      next++;
    } else {
      if (code !== next || next >= 4096) throw damaged();
      let root = previous;
      while (root > 255) root = prefix[root] ?? 0;
      prefix[next] = previous;
      last[next] = root;
      lengths[next] = (lengths[previous] ?? 0) + 1;
      next++;
      write(code);
    }
    previous = code;
    if (next >= (1 << width) - 1 && width < WIDEST) width++;
  }
  return out.subarray(0, Math.min(filled, size));
};

/** PackBits as in TIFF 6.0 section 9. */
const packBits = (packed: Uint8Array, size: number): Uint8Array => {
  const out = new Uint8Array(size);
  let filled = 0;
  let at = 0;
  while (filled < size && at < packed.length) {
    const head = packed[at] ?? 0;
    at++;
    if (head === 128) continue;
    if (head < 128) {
      const piece = packed.subarray(at, at + Math.min(head + 1, size - filled));
      out.set(piece, filled);
      filled += piece.length;
      at += head + 1;
    } else {
      const end = Math.min(filled + 257 - head, size);
      out.fill(packed[at] ?? 0, filled, end);
      filled = end;
      at++;
    }
  }
  return out.subarray(0, filled);
};

/** The largest content of one block of a Zstandard frame (RFC 8878 section 3.1.1.2.4). */
const ZSTANDARD_BLOCK = 128 * 1024;
const ZSTANDARD_MAGIC = 0xfd2fb528;

/** The most bytes that a Zstandard frame can unpack to, by its block headers (RFC 8878 section 3.1.1). */
const mostOfZstandard = (packed: Uint8Array): number => {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  if (packed.length < 9 || view.getUint32(0, true) !== ZSTANDARD_MAGIC) throw damaged();
  const descriptor = packed[4] ?? 0;
  const single = (descriptor & 0x20) !== 0;
  const sizeFlag = descriptor >> 6;
  const sizeBytes = sizeFlag === 0 ? (single ? 1 : 0) : 1 << sizeFlag;
  const dictionaryBytes = [0, 1, 2, 4][descriptor & 3] ?? 0;
  let at = 5 + (single ? 0 : 1) + dictionaryBytes + sizeBytes;
  let most = 0;
  for (;;) {
    if (at + 3 > packed.length) throw damaged();
    const head = view.getUint16(at, true) | ((packed[at + 2] ?? 0) << 16);
    const kind = (head >> 1) & 3;
    const length = head >> 3;
    most += kind === 2 ? ZSTANDARD_BLOCK : length;
    at += 3 + (kind === 1 ? 1 : length);
    if ((head & 1) !== 0) return most;
  }
};

const zstandard = async (packed: Uint8Array, size: number): Promise<Uint8Array> => {
  if (mostOfZstandard(packed) > size + 2 * ZSTANDARD_BLOCK) throw damaged();
  const { ZSTDDecoder } = await import('zstddec');
  const decoder = new ZSTDDecoder();
  await decoder.init();
  try {
    // The strip's size is known; a frame that holds more is cut off by the bound above, one that holds less is damaged.
    return decoder.decode(packed, size);
  } catch {
    throw damaged();
  }
};

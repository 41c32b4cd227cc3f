import { deflateSync } from 'node:zlib';

/** Compressions of TIFF strips, for tests of the readers. */

/** LZW as TIFF 6.0 section 13 describes the encoder, written for the tests. */
export const packLzw = (bytes: Uint8Array): Uint8Array => {
  const out: number[] = [];
  let held = 0;
  let bits = 0;
  let width = 9;
  const put = (code: number): void => {
    held = (held << width) | code;
    bits += width;
    while (bits >= 8) {
      out.push((held >> (bits - 8)) & 0xff);
      bits -= 8;
      held &= (1 << bits) - 1;
    }
  };
  let table = new Map<string, number>();
  const reset = (): void => {
    table = new Map(Array.from({ length: 256 }, (_, i) => [String.fromCharCode(i), i]));
    width = 9;
  };
  reset();
  put(256);
  let next = 258;
  let run = '';
  for (const byte of bytes) {
    const longer = run + String.fromCharCode(byte);
    if (table.has(longer)) {
      run = longer;
      continue;
    }
    put(table.get(run) ?? 0);
    table.set(longer, next);
    next++;
    if (next === 1 << width && width < 12) width++;
    if (next === 4095) {
      put(256);
      reset();
      next = 258;
    }
    run = String.fromCharCode(byte);
  }
  if (run !== '') put(table.get(run) ?? 0);
  put(257);
  while (bits > 0) {
    out.push((held << (8 - bits)) & 0xff);
    bits = 0;
  }
  return Uint8Array.from(out);
};

export const packBits = (bytes: Uint8Array): Uint8Array => {
  const out: number[] = [];
  for (let at = 0; at < bytes.length; ) {
    let same = 1;
    while (same < 128 && bytes[at + same] === bytes[at] && at + same < bytes.length) same++;
    if (same > 1) {
      out.push(257 - same, bytes[at] ?? 0);
      at += same;
    } else {
      out.push(0, bytes[at] ?? 0);
      at++;
    }
  }
  return Uint8Array.from(out);
};

export const deflate = (bytes: Uint8Array): Uint8Array => new Uint8Array(deflateSync(bytes));

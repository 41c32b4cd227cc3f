/**
 * Small rasters for tests and samples: SRTM tiles and uncompressed single-strip or striped GeoTIFF files, written byte by
 * byte after TIFF 6.0 and OGC 19-008r4, so that the readers are not tested against themselves.
 */

/** A tile of a surface: metres above mean sea level at a place, `side` nodes a side, the south-west corner as named. */
export const makeHgt = (
  south: number,
  west: number,
  side: 1201 | 3601,
  surface: (lon: number, lat: number) => number,
): Uint8Array => {
  const bytes = new Uint8Array(side * side * 2);
  const view = new DataView(bytes.buffer);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      const height = surface(west + column / (side - 1), south + 1 - row / (side - 1));
      view.setInt16((row * side + column) * 2, Number.isNaN(height) ? -32768 : Math.round(height), false);
    }
  }
  return bytes;
};

export interface GeoTiffOptions {
  readonly columns: number;
  readonly rows: number;
  /** Coordinates of the first pixel's node (its middle) in the raster's own system, and the steps to the next ones. */
  readonly x: number;
  readonly y: number;
  readonly stepX: number;
  /** Positive: rows go south. */
  readonly stepDown: number;
  /** Number stored for the pixel in a column and row. */
  readonly value: (column: number, row: number) => number;
  readonly sample?: 'float32' | 'float64' | 'int16' | 'uint16' | 'int32' | 'uint8';
  /** EPSG code; below 5000 and in the list of geographic codes it goes to the geodetic key, otherwise to the projected. */
  readonly epsg?: number;
  readonly model?: 'geographic' | 'projected';
  readonly pixelIs?: 'area' | 'point';
  /** Further GeoKeys: number -> short value. */
  readonly keys?: Readonly<Record<number, number>>;
  readonly citation?: { readonly key: number; readonly text: string };
  readonly noData?: string;
  readonly metadata?: string;
  readonly dateTime?: string;
  readonly bands?: number;
  readonly byteOrder?: 'little' | 'big';
  readonly big?: boolean;
  readonly rowsPerStrip?: number;
  /** Write a matrix instead of scale and tie point; `skew` makes it rotated. */
  readonly matrix?: { readonly skew: number };
  readonly unplaced?: boolean;
  readonly compression?: { readonly number: number; readonly pack: (strip: Uint8Array) => Uint8Array };
  readonly predictor?: 2 | 3;
  /** Adds a second directory that says it is a mask. */
  readonly mask?: boolean;
  /** Other fields, put in or put over: tag -> type and values. */
  readonly fields?: readonly TiffEntry[];
}

export interface TiffEntry {
  readonly tag: number;
  readonly type: number;
  readonly values: readonly number[] | string;
}

const GEOGRAPHIC: ReadonlySet<number> = new Set([4326, 4258, 4269, 4267, 4979, 4283, 6318]);
const SIZES: Readonly<Record<number, number>> = { 2: 1, 3: 2, 4: 4, 12: 8, 16: 8 };
const SAMPLES = {
  float32: { bits: 32, format: 3 },
  float64: { bits: 64, format: 3 },
  int16: { bits: 16, format: 2 },
  uint16: { bits: 16, format: 1 },
  int32: { bits: 32, format: 2 },
  uint8: { bits: 8, format: 1 },
} as const;

const write = (view: DataView, at: number, type: number, value: number, little: boolean): void => {
  if (type === 2) view.setUint8(at, value);
  else if (type === 3) view.setUint16(at, value, little);
  else if (type === 4) view.setUint32(at, value, little);
  else if (type === 12) view.setFloat64(at, value, little);
  else view.setBigUint64(at, BigInt(value), little);
};

const putSample = (view: DataView, at: number, kind: keyof typeof SAMPLES, value: number, little: boolean): void => {
  if (kind === 'float32') view.setFloat32(at, value, little);
  else if (kind === 'float64') view.setFloat64(at, value, little);
  else if (kind === 'int16') view.setInt16(at, value, little);
  else if (kind === 'uint16') view.setUint16(at, value, little);
  else if (kind === 'int32') view.setInt32(at, value, little);
  else view.setUint8(at, value);
};

const numbersOf = (entry: TiffEntry): readonly number[] =>
  typeof entry.values === 'string' ? [...new TextEncoder().encode(`${entry.values}\0`)] : entry.values;

/** Differences for predictor 2 (of 16- and 32-bit whole numbers) or 3 (of floating point), row by row, in place. */
const predict = (strip: Uint8Array, columns: number, bits: number, predictor: 2 | 3, little: boolean): void => {
  const size = bits / 8;
  const view = new DataView(strip.buffer, strip.byteOffset, strip.byteLength);
  for (let row = 0; row < strip.length; row += columns * size) {
    if (predictor === 2) {
      for (let i = columns - 1; i > 0; i--) {
        const at = row + i * size;
        if (size === 2) {
          view.setUint16(at, (view.getUint16(at, little) - view.getUint16(at - 2, little)) & 0xffff, little);
        } else {
          view.setUint32(at, (view.getUint32(at, little) - view.getUint32(at - 4, little)) >>> 0, little);
        }
      }
      continue;
    }
    const planes = new Uint8Array(columns * size);
    for (let i = 0; i < columns; i++) {
      for (let plane = 0; plane < size; plane++) {
        planes[plane * columns + i] = strip[row + i * size + (little ? size - 1 - plane : plane)] ?? 0;
      }
    }
    for (let i = planes.length - 1; i > 0; i--) planes[i] = ((planes[i] ?? 0) - (planes[i - 1] ?? 0)) & 0xff;
    strip.set(planes, row);
  }
};

const geoKeysOf = (options: GeoTiffOptions): readonly TiffEntry[] => {
  const keys = new Map<number, readonly [number, number, number]>();
  const geographic = options.model ? options.model === 'geographic' : GEOGRAPHIC.has(options.epsg ?? 0);
  if (options.epsg !== undefined) {
    keys.set(1024, [0, 1, geographic ? 2 : 1]);
    keys.set(geographic ? 2048 : 3072, [0, 1, options.epsg]);
  }
  keys.set(1025, [0, 1, options.pixelIs === 'point' ? 2 : 1]);
  for (const [key, value] of Object.entries(options.keys ?? {})) keys.set(Number(key), [0, 1, value]);
  const entries: TiffEntry[] = [];
  if (options.citation !== undefined) {
    keys.set(options.citation.key, [34737, options.citation.text.length + 1, 0]);
    entries.push({ tag: 34737, type: 2, values: `${options.citation.text}|` });
  }
  const list = [...keys].sort(([one], [other]) => one - other).flatMap(([key, rest]) => [key, ...rest]);
  entries.push({ tag: 34735, type: 3, values: [1, 1, 0, keys.size, ...list] });
  return entries;
};

const placingOf = (options: GeoTiffOptions): readonly TiffEntry[] => {
  if (options.unplaced === true) return [];
  const half = options.pixelIs === 'point' ? 0 : 0.5;
  const x = options.x - half * options.stepX;
  const y = options.y + half * options.stepDown;
  if (options.matrix !== undefined) {
    const { skew } = options.matrix;
    const values = [options.stepX, skew, 0, x, skew, -options.stepDown, 0, y, 0, 0, 0, 0, 0, 0, 0, 1];
    return [{ tag: 34264, type: 12, values }];
  }
  return [
    { tag: 33550, type: 12, values: [options.stepX, options.stepDown, 0] },
    { tag: 33922, type: 12, values: [0, 0, 0, x, y, 0] },
  ];
};

/** Writes a GeoTIFF. */
export const makeGeoTiff = (options: GeoTiffOptions): Uint8Array => {
  const kind = options.sample ?? 'float32';
  const { bits, format } = SAMPLES[kind];
  const bands = options.bands ?? 1;
  const little = options.byteOrder !== 'big';
  const big = options.big === true;
  const rowsPerStrip = options.rowsPerStrip ?? options.rows;
  const strips: Uint8Array[] = [];
  for (let top = 0; top < options.rows; top += rowsPerStrip) {
    const rows = Math.min(rowsPerStrip, options.rows - top);
    const strip = new Uint8Array((options.columns * rows * bands * bits) / 8);
    const view = new DataView(strip.buffer);
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < options.columns; column++) {
        for (let band = 0; band < bands; band++) {
          const at = (((row * options.columns + column) * bands + band) * bits) / 8;
          putSample(view, at, kind, options.value(column, top + row), little);
        }
      }
    }
    if (options.predictor !== undefined) predict(strip, options.columns, bits, options.predictor, little);
    strips.push(options.compression === undefined ? strip : options.compression.pack(strip));
  }

  const entries = new Map<number, TiffEntry>();
  const put = (entry: TiffEntry): void => {
    entries.set(entry.tag, entry);
  };
  put({ tag: 256, type: 4, values: [options.columns] });
  put({ tag: 257, type: 4, values: [options.rows] });
  put({ tag: 258, type: 3, values: new Array<number>(bands).fill(bits) });
  put({ tag: 259, type: 3, values: [options.compression?.number ?? 1] });
  put({ tag: 262, type: 3, values: [bands >= 3 ? 2 : 1] });
  put({ tag: 277, type: 3, values: [bands] });
  put({ tag: 278, type: 4, values: [rowsPerStrip] });
  put({ tag: 284, type: 3, values: [1] });
  put({ tag: 339, type: 3, values: new Array<number>(bands).fill(format) });
  if (options.predictor !== undefined) put({ tag: 317, type: 3, values: [options.predictor] });
  if (options.dateTime !== undefined) put({ tag: 306, type: 2, values: options.dateTime });
  if (options.noData !== undefined) put({ tag: 42113, type: 2, values: options.noData });
  if (options.metadata !== undefined) put({ tag: 42112, type: 2, values: options.metadata });
  for (const entry of [...placingOf(options), ...geoKeysOf(options)]) put(entry);
  // Placeholders of the right size; the true offsets are known once the fields are laid out.
  put({ tag: 273, type: big ? 16 : 4, values: strips.map(() => 0) });
  put({ tag: 279, type: big ? 16 : 4, values: strips.map((strip) => strip.length) });
  for (const entry of options.fields ?? []) put(entry);

  const sorted = [...entries.values()].sort((one, other) => one.tag - other.tag);
  const inlineSize = big ? 8 : 4;
  const entrySize = big ? 20 : 12;
  const start = big ? 16 : 8;
  const directorySize = (big ? 8 : 2) + sorted.length * entrySize + inlineSize;
  let at = start + directorySize;
  const placed = sorted.map((entry) => {
    const numbers = numbersOf(entry);
    const length = numbers.length * (SIZES[entry.type] ?? 1);
    if (length <= inlineSize) return { entry, numbers, at: -1 };
    const here = at;
    at += length + (length % 2);
    return { entry, numbers, at: here };
  });
  const maskAt = at;
  if (options.mask === true) at += (big ? 8 : 2) + entrySize + inlineSize;
  const stripAt = strips.map((strip) => {
    const here = at;
    at += strip.length + (strip.length % 2);
    return here;
  });

  const bytes = new Uint8Array(at);
  const view = new DataView(bytes.buffer);
  const offset = (place: number, value: number): void => write(view, place, big ? 16 : 4, value, little);
  const countOf = (place: number, value: number): void => write(view, place, big ? 16 : 3, value, little);
  view.setUint16(0, little ? 0x4949 : 0x4d4d, false);
  view.setUint16(2, big ? 43 : 42, little);
  if (big) view.setUint16(4, 8, little);
  offset(big ? 8 : 4, start);
  countOf(start, sorted.length);
  placed.forEach(({ entry, numbers, at: values }, index) => {
    const place = start + (big ? 8 : 2) + index * entrySize;
    view.setUint16(place, entry.tag, little);
    view.setUint16(place + 2, entry.type, little);
    write(view, place + 4, big ? 16 : 4, numbers.length, little);
    const valueAt = place + (big ? 12 : 8);
    const target = values < 0 ? valueAt : values;
    if (values >= 0) offset(valueAt, values);
    const isOffsets = entry.tag === 273 && !(options.fields ?? []).some(({ tag }) => tag === 273);
    const shown = isOffsets ? stripAt : numbers;
    shown.forEach((value, i) => {
      write(view, target + i * (SIZES[entry.type] ?? 1), entry.type, value, little);
    });
  });
  if (options.mask === true) {
    offset(start + (big ? 8 : 2) + sorted.length * entrySize, maskAt);
    countOf(maskAt, 1);
    const place = maskAt + (big ? 8 : 2);
    view.setUint16(place, 254, little);
    view.setUint16(place + 2, 4, little);
    write(view, place + 4, big ? 16 : 4, 1, little);
    view.setUint32(place + (big ? 12 : 8), 4, little);
  }
  strips.forEach((strip, i) => {
    bytes.set(strip, stripAt[i] ?? 0);
  });
  return bytes;
};

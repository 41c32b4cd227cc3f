/** A geoid grid in GTX form, written byte by byte: a header of four doubles and two whole numbers, then rows from the south. */
export interface GtxOptions {
  readonly south: number;
  readonly west: number;
  readonly stepNorth: number;
  readonly stepEast: number;
  readonly rows: number;
  readonly columns: number;
  readonly value: (lon: number, lat: number) => number;
}

export const makeGtx = ({ south, west, stepNorth, stepEast, rows, columns, value }: GtxOptions): Uint8Array => {
  const bytes = new Uint8Array(40 + 4 * rows * columns);
  const view = new DataView(bytes.buffer);
  [south, west, stepNorth, stepEast].forEach((number, i) => {
    view.setFloat64(8 * i, number, false);
  });
  view.setInt32(32, rows, false);
  view.setInt32(36, columns, false);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const at = 40 + 4 * (row * columns + column);
      view.setFloat32(at, value(west + column * stepEast, south + row * stepNorth), false);
    }
  }
  return bytes;
};

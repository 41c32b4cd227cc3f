import type { LonLat } from '../units/frames.ts';

/**
 * A raster of ground heights as the exact geometry sees it. Nodes are the points whose height is known; between four
 * nodes the ground is bilinear. A raster whose pixels are areas has its nodes at the pixel centres.
 */
export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  /** Height of the node in metres above mean sea level, row by row; NaN where the source has no data. */
  readonly heights: Float32Array | Float64Array | Int16Array;
  /** Value in `heights` that means no data, beside NaN. */
  readonly noData?: number;
  /** Continuous node coordinates of a place: x = 0 on the first column, y = 0 on the first row. Total; may lie outside. */
  toGrid(at: LonLat): { readonly x: number; readonly y: number };
  /** Ground distance between neighbouring nodes at the middle of the raster, in metres: the finer one wins. */
  readonly cellMetres: number;
  /** One-sigma-like stated vertical error of the source in metres (see its provenance). */
  readonly errorMetres: number;
}

/**
 * The ground under a path, piece by piece and exact for the bilinear surface: on piece i, for `along[i] <= s <= along[i+1]`
 * metres from the path's start, the ground is `a[i] + b[i] t + c[i] t²` metres above mean sea level, `t = s - along[i]`.
 * A piece without data has NaN for `a[i]`. The pieces cover the whole path.
 */
export interface GroundProfile {
  readonly pieces: number;
  readonly along: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly c: Float64Array;
}

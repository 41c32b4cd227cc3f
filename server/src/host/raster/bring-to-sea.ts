import type { Geoid } from '../../world/geoid.ts';
import { isGround, type RasterPart } from './raster-part.ts';

/**
 * The error of a global geoid in metres: that of EGM96 is between half a metre and a metre (Lemoine et al., NASA/TP-1998-
 * 206861, 1998, from memory).
 */
export const GEOID_ERROR = 1;

/** Side in metres of the blocks of nodes between whose corners the geoid is taken as bilinear: it bends by under 2 cm. */
const BLOCK = 200;

/**
 * A part whose heights are above the ellipsoid, brought to mean sea level; without height where the geoid has no value. The
 * datum of the raster may lie off WGS 84 upwards as much as sideways, so that its error counts once more as height.
 * `cell` is the distance of the nodes in metres.
 */
export const bringToSea = (part: RasterPart, geoid: Geoid, cell: number): RasterPart => {
  const { lattice, columns, rows } = part;
  const heights = part.heights.slice();
  const block = Math.max(1, Math.floor(BLOCK / cell));
  const across = Math.ceil((columns - 1) / block) + 1;
  const undulation = (column: number, row: number): number => {
    const x = lattice.x + (part.column + column) * lattice.stepX;
    const y = lattice.y + (part.row + row) * lattice.stepY;
    return geoid.undulationAt(lattice.crs.unproject(x, y)) ?? Number.NaN;
  };
  const lineAt = (row: number): Float64Array =>
    Float64Array.from({ length: across }, (_, i) => undulation(i * block, row));
  let above = lineAt(0);
  for (let top = 0; top < rows; top += block) {
    const below = lineAt(top + block);
    for (let row = top; row < Math.min(rows, top + block); row++) {
      const down = (row - top) / block;
      for (let column = 0; column < columns; column++) {
        const left = Math.floor(column / block);
        const right = column / block - left;
        const mix = (line: Float64Array): number =>
          right === 0
            ? (line[left] ?? Number.NaN)
            : (1 - right) * (line[left] ?? Number.NaN) + right * (line[left + 1] ?? Number.NaN);
        const there = down === 0 ? mix(above) : (1 - down) * mix(above) + down * mix(below);
        const height = (heights[row * columns + column] ?? Number.NaN) - there;
        heights[row * columns + column] = isGround(height) ? height : Number.NaN;
      }
    }
    above = below;
  }
  return {
    ...part,
    heights,
    error: part.error + GEOID_ERROR + lattice.crs.horizontalError,
    notes: [...part.notes, 'heights above the ellipsoid brought to mean sea level by the geoid grid of the plan'],
  };
};

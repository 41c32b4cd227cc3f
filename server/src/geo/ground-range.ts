import { aboveSea, type LonLat, type MetresAboveSea } from '../units/frames.ts';
import type { HeightGrid } from './height-grid.ts';
import { groundUnderSheet } from './sheet-over-terrain.ts';

export interface GroundRange {
  readonly least: MetresAboveSea;
  readonly greatest: MetresAboveSea;
  readonly leastAt: LonLat;
  readonly greatestAt: LonLat;
}

/**
 * Least and greatest ground within a ring, exact for bilinear ground: what is under a level sheet. Rasters in order of
 * preference; what one lacks the next answers for. Undefined where any of the area has no data.
 */
export const groundWithin = (grids: readonly HeightGrid[], ring: readonly LonLat[]): GroundRange | undefined => {
  const level = aboveSea(0);
  const { least, greatest, unknown } = groundUnderSheet(
    grids,
    ring.map((at) => ({ at, altitude: level })),
  );
  if (unknown || least === undefined || greatest === undefined) return undefined;
  return { least: least.ground, greatest: greatest.ground, leastAt: least.at, greatestAt: greatest.at };
};

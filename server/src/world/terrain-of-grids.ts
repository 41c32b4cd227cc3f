import { type Box, boxAround, boxesMeet, growBox } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import { mergeProfiles, unknownProfile } from '../geo/ground-profile.ts';
import { groundWithin } from '../geo/ground-range.ts';
import type { HeightGrid } from '../geo/height-grid.ts';
import { nearestSurface } from '../geo/nearest-surface.ts';
import { groundUnderSheet } from '../geo/sheet-over-terrain.ts';
import { surfaceVerdict, surfaceVerdictSteps } from '../geo/surface-verdict.ts';
import { groundAlong, groundAt } from '../geo/terrain-walk.ts';
import { type LonLat, type MetresAboveSea, metres } from '../units/frames.ts';
import type { Terrain } from './world.ts';

/** A raster, with the box it lies in where that is known: a raster whose box is far away is not walked. */
export interface PlacedGrid {
  readonly grid: HeightGrid;
  readonly box?: Box;
}

const raised = (grid: HeightGrid, by: number): HeightGrid => {
  const { noData, ...rest } = grid;
  return {
    ...rest,
    heights: Float64Array.from(grid.heights, (height) => (height === noData ? Number.NaN : height + by)),
  };
};

/** A geodesic bulges out of the box of its ends by less than this for any leg a drone flies. Metres. */
const BULGE = 1000;

/**
 * The ground of several rasters. The finest comes first; where it has no data the next one answers. Rasters that are
 * equally fine keep the order given.
 */
export const terrainOf = (placed: readonly PlacedGrid[]): Terrain => {
  const ordered = [...placed].sort((one, other) => one.grid.cellMetres - other.grid.cellMetres);
  const near = (places: readonly LonLat[]): readonly HeightGrid[] => {
    const around = boxAround(places);
    if (around === undefined) return [];
    const box = growBox(around, BULGE);
    return ordered.filter((one) => one.box === undefined || boxesMeet(one.box, box)).map((one) => one.grid);
  };
  const answering = (at: LonLat): { readonly grid: HeightGrid; readonly ground: MetresAboveSea } | undefined => {
    for (const grid of near([at])) {
      const ground = groundAt(grid, at);
      if (ground !== undefined) return { grid, ground };
    }
    return undefined;
  };
  return {
    error: metres(placed.reduce((most, { grid }) => Math.max(most, grid.errorMetres), 0)),
    groundAt: (at) => answering(at)?.ground,
    cellAt: (at) => {
      const there = answering(at);
      return there === undefined ? undefined : metres(there.grid.cellMetres);
    },
    groundAlong: (path: LegPath) => {
      const [first, ...rest] = near([path.from, path.at(path.length / 2), path.to]);
      if (first === undefined) return unknownProfile(path.length);
      return mergeProfiles([groundAlong(first, path), ...rest.map((grid) => groundAlong(grid, path))]);
    },
    rangeWithin: (ring) => groundWithin(near(ring), ring),
    underSheet: (corners) => groundUnderSheet(near(corners.map(({ at }) => at)), corners),
    farFromGround: (path, start, end, stretches, limit) =>
      surfaceVerdict(near([path.from, path.at(path.length / 2), path.to]), path, start, end, stretches, limit),
    farFromGroundSteps: (path, craft, stretches, limit) =>
      surfaceVerdictSteps(near([path.from, path.at(path.length / 2), path.to]), path, craft, stretches, limit),
    nearestGround: (at, altitude, radius) => nearestSurface(near([at]), at, altitude, radius),
    raisedBy: (by) => terrainOf(placed.map((one) => ({ ...one, grid: raised(one.grid, by) }))),
  };
};

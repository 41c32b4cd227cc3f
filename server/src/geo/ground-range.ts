import { aboveSea, type LonLat, lonLat, type MetresAboveSea, metres } from '../units/frames.ts';
import { longitudeStep, wrapLongitude } from './box.ts';
import { closeProfile, draftProfile } from './ground-profile.ts';
import type { HeightGrid } from './height-grid.ts';
import { heightOverGround } from './quadratic.ts';
import { type PlaneRing, ringOfPoints, windings } from './ring.ts';
import { edgeSlack, nodeHeight, walkLine } from './terrain-walk.ts';

export interface GroundRange {
  readonly least: MetresAboveSea;
  readonly greatest: MetresAboveSea;
  readonly leastAt: LonLat;
  readonly greatestAt: LonLat;
}

/** A corner of the area with its place in the raster at hand. Longitudes are unwrapped along the ring. */
interface Corner {
  readonly lon: number;
  readonly lat: number;
  readonly x: number;
  readonly y: number;
}

/** Above so many cells without data the next raster answers for the whole area, not cell by cell. */
const MOST_VOIDS = 400;

const inGrid = (grid: HeightGrid, lon: number, lat: number): Corner => {
  const { x, y } = grid.toGrid(lonLat(wrapLongitude(lon), lat));
  return { lon, lat, x, y };
};

const shareOf = (from: Corner, to: Corner, share: number): Corner => ({
  lon: from.lon + share * (to.lon - from.lon),
  lat: from.lat + share * (to.lat - from.lat),
  x: from.x + share * (to.x - from.x),
  y: from.y + share * (to.y - from.y),
});

/** The part of a ring where `room` is not negative, by clipping against one straight line. */
const clipRing = (ring: readonly Corner[], room: (corner: Corner) => number): readonly Corner[] => {
  const clipped: Corner[] = [];
  ring.forEach((corner, i) => {
    const next = ring[i + 1] ?? ring[0] ?? corner;
    const here = room(corner);
    const there = room(next);
    if (here >= 0) clipped.push(corner);
    if (here >= 0 !== there >= 0) clipped.push(shareOf(corner, next, here / (here - there)));
  });
  return clipped;
};

/** Parts of fewer square cells than this are what rounding leaves along a border. */
const SLIVER = 1e-9;

const areaOf = (ring: readonly Corner[]): number => {
  let twice = 0;
  ring.forEach((corner, i) => {
    const next = ring[i + 1] ?? ring[0] ?? corner;
    twice += corner.x * next.y - next.x * corner.y;
  });
  return Math.abs(twice) / 2;
};

const clipToCell = (ring: readonly Corner[], column: number, row: number): readonly Corner[] => {
  let part = clipRing(ring, (corner) => corner.x - column);
  part = clipRing(part, (corner) => column + 1 - corner.x);
  part = clipRing(part, (corner) => corner.y - row);
  return clipRing(part, (corner) => row + 1 - corner.y);
};

const wider = (one: GroundRange | undefined, other: GroundRange): GroundRange => {
  if (one === undefined) return other;
  const lower = one.least <= other.least ? one : other;
  const higher = one.greatest >= other.greatest ? one : other;
  return {
    least: lower.least,
    leastAt: lower.leastAt,
    greatest: higher.greatest,
    greatestAt: higher.greatestAt,
  };
};

const single = (height: number, lon: number, lat: number): GroundRange => {
  const at = lonLat(wrapLongitude(lon), lat);
  return { least: aboveSea(height), greatest: aboveSea(height), leastAt: at, greatestAt: at };
};

/** Ground under one edge of the ring: exact, by the same walk as a leg. */
const rangeOnEdge = (grid: HeightGrid, from: Corner, to: Corner): GroundRange | undefined => {
  const draft = draftProfile();
  walkLine(grid, { x: from.x, y: from.y, dx: to.x - from.x, dy: to.y - from.y, along: 0, length: 1 }, draft);
  const level = aboveSea(0);
  const { least, greatest } = heightOverGround(closeProfile(draft, 1), level, level, metres(1));
  if (least === undefined || greatest === undefined) return undefined;
  const low = shareOf(from, to, greatest.along);
  const high = shareOf(from, to, least.along);
  return wider(single(-greatest.value, low.lon, low.lat), single(-least.value, high.lon, high.lat));
};

/** Longitude and latitude of a node: the ring's own corners tell the raster's scale, and Newton's steps find it. */
const placeOfNode = (grid: HeightGrid, near: Corner, column: number, row: number): LonLat => {
  const step = 1e-5;
  let { lon, lat } = near;
  for (let i = 0; i < 8; i++) {
    const here = inGrid(grid, lon, lat);
    const offX = column - here.x;
    const offY = row - here.y;
    if (Math.abs(offX) + Math.abs(offY) < 1e-6) break;
    const east = inGrid(grid, lon + step, lat);
    const towardsPole = lat > 0 ? -step : step;
    const north = inGrid(grid, lon, lat + towardsPole);
    const a = (east.x - here.x) / step;
    const b = (north.x - here.x) / towardsPole;
    const c = (east.y - here.y) / step;
    const d = (north.y - here.y) / towardsPole;
    const determinant = a * d - b * c;
    if (!(Math.abs(determinant) > 0)) break;
    lon += (offX * d - b * offY) / determinant;
    lat = Math.min(90, Math.max(-90, lat + (a * offY - c * offX) / determinant));
  }
  return lonLat(wrapLongitude(lon), lat);
};

interface NodeRange {
  readonly range: GroundRange | undefined;
  /** Cells that touch the ring and lack data, as their first column and row; undefined for too many to list. */
  readonly voids: readonly (readonly [column: number, row: number])[] | undefined;
}

/** Ground at the nodes inside the ring: between nodes a bilinear cell has no inner extremum. */
const rangeOfNodes = (grid: HeightGrid, ring: PlaneRing, near: Corner): NodeRange => {
  const firstColumn = Math.max(0, Math.floor(ring.west));
  const lastColumn = Math.min(grid.columns - 1, Math.ceil(ring.east));
  const firstRow = Math.max(0, Math.floor(ring.south));
  const lastRow = Math.min(grid.rows - 1, Math.ceil(ring.north));
  let low: readonly [number, number, number] | undefined;
  let high: readonly [number, number, number] | undefined;
  let voids: (readonly [number, number])[] | undefined = [];
  for (let row = firstRow; row <= lastRow; row++) {
    for (let column = firstColumn; column <= lastColumn; column++) {
      const height = nodeHeight(grid, column, row);
      if (Number.isNaN(height)) {
        if (voids !== undefined) voids.push([column, row]);
        if (voids !== undefined && voids.length > MOST_VOIDS) voids = undefined;
        continue;
      }
      const isBetter = low === undefined || height < low[0] || high === undefined || height > high[0];
      if (!isBetter || windings(ring, column, row) === 0) continue;
      if (low === undefined || height < low[0]) low = [height, column, row];
      if (high === undefined || height > high[0]) high = [height, column, row];
    }
  }
  if (low === undefined || high === undefined) return { range: undefined, voids };
  const lowAt = placeOfNode(grid, near, low[1], low[2]);
  const highAt = placeOfNode(grid, near, high[1], high[2]);
  return { range: wider(single(low[0], lowAt.lon, lowAt.lat), single(high[0], highAt.lon, highAt.lat)), voids };
};

/** The parts of a ring that a raster does not answer for. */
const partsWithout = (
  grid: HeightGrid,
  ring: readonly Corner[],
  voids: NodeRange['voids'],
): readonly (readonly Corner[])[] => {
  if (voids === undefined) return [ring];
  const east = grid.columns - 1;
  const south = grid.rows - 1;
  const slack = edgeSlack(grid);
  const beyond: ((corner: Corner) => number)[] = [
    (corner) => -slack - corner.x,
    (corner) => corner.x - east - slack,
    (corner) => -slack - corner.y,
    (corner) => corner.y - south - slack,
  ];
  const parts = beyond.map((room) => clipRing(ring, room));
  const cells = new Set<string>();
  for (const [column, row] of voids) {
    for (const x of [column - 1, column]) {
      for (const y of [row - 1, row]) {
        if (x < 0 || y < 0 || x >= east || y >= south || cells.has(`${x} ${y}`)) continue;
        cells.add(`${x} ${y}`);
        parts.push(clipToCell(ring, x, y));
      }
    }
  }
  // A part without area is a border, whose ground the neighbouring cell has answered for; a ring without area is all edge.
  const least = Math.min(SLIVER, areaOf(ring) / 2);
  return parts.filter((part) => part.length > 0 && areaOf(part) >= least);
};

const rangeOfPart = (grids: readonly HeightGrid[], part: readonly Corner[]): GroundRange | undefined => {
  const [grid, ...rest] = grids;
  if (grid === undefined) return undefined;
  const ring = part.map((corner) => inGrid(grid, corner.lon, corner.lat));
  const [first] = ring;
  if (first === undefined) return undefined;
  if (ring.some((corner) => !Number.isFinite(corner.x + corner.y))) return rangeOfPart(rest, part);
  const nodes = rangeOfNodes(grid, ringOfPoints(ring), first);
  let range = nodes.range;
  ring.forEach((corner, i) => {
    const edge = rangeOnEdge(grid, corner, ring[i + 1] ?? first);
    if (edge !== undefined) range = wider(range, edge);
  });
  for (const lacking of partsWithout(grid, ring, nodes.voids)) {
    const other = rangeOfPart(rest, lacking);
    if (other === undefined) return undefined;
    range = wider(range, other);
  }
  return range;
};

/**
 * Least and greatest ground within a ring, exact for bilinear ground: the nodes inside and the ground along the ring's
 * edges decide. Rasters in order of preference; what one lacks the next answers for. Undefined where any of the area
 * has no data.
 */
export const groundWithin = (grids: readonly HeightGrid[], ring: readonly LonLat[]): GroundRange | undefined => {
  const [first] = ring;
  if (first === undefined) return undefined;
  const corners = ring.map((corner) => ({
    lon: first.lon + longitudeStep(first.lon, corner.lon),
    lat: corner.lat as number,
    x: 0,
    y: 0,
  }));
  return rangeOfPart(grids, corners);
};

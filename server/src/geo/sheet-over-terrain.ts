import { aboveSea, type LonLat, lonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { longitudeStep, wrapLongitude } from './box.ts';
import { closeProfile, draftProfile } from './ground-profile.ts';
import type { HeightGrid } from './height-grid.ts';
import { heightOverGround } from './quadratic.ts';
import { type PlaneRing, ringOfPoints, windings } from './ring.ts';
import { edgeSlack, nodeHeight, walkLine } from './terrain-walk.ts';

/** A corner of a flat sheet that is spread over the ground, with the altitude of the sheet there. */
export interface SheetCorner {
  readonly at: LonLat;
  readonly altitude: MetresAboveSea;
}

/** A place of the ground under, or through, a sheet. */
export interface GroundThere {
  /** The ground minus the sheet there: positive where the ground comes through. */
  readonly over: Metres;
  readonly ground: MetresAboveSea;
  readonly at: LonLat;
}

/** What is known of the ground under a sheet. */
export interface UnderSheet {
  /** Where the ground is farthest below the sheet, and where it is highest over it. Undefined without any ground. */
  readonly least: GroundThere | undefined;
  readonly greatest: GroundThere | undefined;
  /** Whether a part of the sheet has no ground under it that is known. */
  readonly unknown: boolean;
}

/** A corner of the sheet with its place in the raster at hand. Longitudes are unwrapped along the ring. */
interface Corner {
  readonly lon: number;
  readonly lat: number;
  readonly altitude: number;
  readonly x: number;
  readonly y: number;
}

/** Above so many cells without data the next raster answers for the whole area, not cell by cell. */
const MOST_VOIDS = 400;

const inGrid = (grid: HeightGrid, lon: number, lat: number, altitude: number): Corner => {
  const { x, y } = grid.toGrid(lonLat(wrapLongitude(lon), lat));
  return { lon, lat, altitude, x, y };
};

const shareOf = (from: Corner, to: Corner, share: number): Corner => ({
  lon: from.lon + share * (to.lon - from.lon),
  lat: from.lat + share * (to.lat - from.lat),
  altitude: from.altitude + share * (to.altitude - from.altitude),
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

/** The altitude of a sheet at node coordinates: `c + x * east + y * south`. */
interface SheetPlane {
  readonly c: number;
  readonly x: number;
  readonly y: number;
}

/** The plane through the corners of a sheet. Corners on one line say nothing across it: the sheet is level that way. */
const planeOf = (ring: readonly Corner[], first: Corner): SheetPlane => {
  const farthest = ring.reduce((best, corner) =>
    Math.hypot(corner.x - first.x, corner.y - first.y) > Math.hypot(best.x - first.x, best.y - first.y) ? corner : best,
  );
  const [x1, y1] = [farthest.x - first.x, farthest.y - first.y];
  const rise = farthest.altitude - first.altitude;
  const square = x1 * x1 + y1 * y1;
  if (square === 0) return { c: first.altitude, x: 0, y: 0 };
  const crossOf = (corner: Corner): number => x1 * (corner.y - first.y) - y1 * (corner.x - first.x);
  const widest = ring.reduce((best, corner) => (Math.abs(crossOf(corner)) > Math.abs(crossOf(best)) ? corner : best));
  const cross = crossOf(widest);
  let [x, y] = [(rise * x1) / square, (rise * y1) / square];
  if (Math.abs(cross) > SLIVER) {
    const across = widest.altitude - first.altitude;
    x = (rise * (widest.y - first.y) - across * y1) / cross;
    y = (across * x1 - rise * (widest.x - first.x)) / cross;
  }
  return { c: first.altitude - x * first.x - y * first.y, x, y };
};

type Known = Pick<UnderSheet, 'least' | 'greatest'>;
const NOTHING: Known = { least: undefined, greatest: undefined };

const lower = (one: GroundThere | undefined, other: GroundThere | undefined): GroundThere | undefined =>
  one === undefined || (other !== undefined && other.over < one.over) ? other : one;
const higher = (one: GroundThere | undefined, other: GroundThere | undefined): GroundThere | undefined =>
  one === undefined || (other !== undefined && other.over > one.over) ? other : one;

const wider = (one: Known, other: Known): Known => ({
  least: lower(one.least, other.least),
  greatest: higher(one.greatest, other.greatest),
});

const there = (over: number, ground: number, at: LonLat): GroundThere => ({
  over: metres(over),
  ground: aboveSea(ground),
  at,
});

/** Ground under one edge of the sheet: exact, by the same walk as a leg. */
const rangeOnEdge = (grid: HeightGrid, from: Corner, to: Corner): Known => {
  const draft = draftProfile();
  walkLine(grid, { x: from.x, y: from.y, dx: to.x - from.x, dy: to.y - from.y, along: 0, length: 1 }, draft);
  const profile = closeProfile(draft, 1);
  const { least, greatest } = heightOverGround(profile, aboveSea(from.altitude), aboveSea(to.altitude), metres(1));
  if (least === undefined || greatest === undefined) return NOTHING;
  const placed = ({ value, along }: { readonly value: number; readonly along: number }): GroundThere => {
    const { lon, lat, altitude } = shareOf(from, to, along);
    return there(-value, altitude - value, lonLat(wrapLongitude(lon), lat));
  };
  return { least: placed(greatest), greatest: placed(least) };
};

/** Longitude and latitude of a node: the ring's own corners tell the raster's scale, and Newton's steps find it. */
const placeOfNode = (grid: HeightGrid, near: Corner, column: number, row: number): LonLat => {
  const step = 1e-5;
  let { lon, lat } = near;
  for (let i = 0; i < 8; i++) {
    const here = inGrid(grid, lon, lat, 0);
    const offX = column - here.x;
    const offY = row - here.y;
    if (Math.abs(offX) + Math.abs(offY) < 1e-6) break;
    const east = inGrid(grid, lon + step, lat, 0);
    const towardsPole = lat > 0 ? -step : step;
    const north = inGrid(grid, lon, lat + towardsPole, 0);
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
  readonly range: Known;
  /** Cells that touch the ring and lack data, as their first column and row; undefined for too many to list. */
  readonly voids: readonly (readonly [column: number, row: number])[] | undefined;
}

/** A node with the ground there, and that ground minus the sheet. */
type Node = readonly [over: number, ground: number, column: number, row: number];

/** Ground at the nodes inside the ring: between nodes a bilinear cell has no inner extremum, also not over a plane. */
const rangeOfNodes = (grid: HeightGrid, ring: PlaneRing, plane: SheetPlane, near: Corner): NodeRange => {
  const firstColumn = Math.max(0, Math.floor(ring.west));
  const lastColumn = Math.min(grid.columns - 1, Math.ceil(ring.east));
  const firstRow = Math.max(0, Math.floor(ring.south));
  const lastRow = Math.min(grid.rows - 1, Math.ceil(ring.north));
  let low: Node | undefined;
  let high: Node | undefined;
  let voids: (readonly [number, number])[] | undefined = [];
  for (let row = firstRow; row <= lastRow; row++) {
    for (let column = firstColumn; column <= lastColumn; column++) {
      const height = nodeHeight(grid, column, row);
      if (Number.isNaN(height)) {
        if (voids !== undefined) voids.push([column, row]);
        if (voids !== undefined && voids.length > MOST_VOIDS) voids = undefined;
        continue;
      }
      const over = height - (plane.c + column * plane.x + row * plane.y);
      const isBetter = low === undefined || over < low[0] || high === undefined || over > high[0];
      if (!isBetter || windings(ring, column, row) === 0) continue;
      if (low === undefined || over < low[0]) low = [over, height, column, row];
      if (high === undefined || over > high[0]) high = [over, height, column, row];
    }
  }
  const placed = (node: Node | undefined): GroundThere | undefined =>
    node === undefined ? undefined : there(node[0], node[1], placeOfNode(grid, near, node[2], node[3]));
  return { range: { least: placed(low), greatest: placed(high) }, voids };
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

const rangeOfPart = (grids: readonly HeightGrid[], part: readonly Corner[]): UnderSheet => {
  const [grid, ...rest] = grids;
  if (grid === undefined) return { ...NOTHING, unknown: true };
  const ring = part.map((corner) => inGrid(grid, corner.lon, corner.lat, corner.altitude));
  const [first] = ring;
  if (first === undefined) return { ...NOTHING, unknown: true };
  if (ring.some((corner) => !Number.isFinite(corner.x + corner.y))) return rangeOfPart(rest, part);
  const nodes = rangeOfNodes(grid, ringOfPoints(ring), planeOf(ring, first), first);
  let range = nodes.range;
  ring.forEach((corner, i) => {
    range = wider(range, rangeOnEdge(grid, corner, ring[i + 1] ?? first));
  });
  let unknown = false;
  for (const lacking of partsWithout(grid, ring, nodes.voids)) {
    const other = rangeOfPart(rest, lacking);
    range = wider(range, other);
    unknown ||= other.unknown;
  }
  return { ...range, unknown };
};

/**
 * The ground under a flat sheet, exact for bilinear ground: over a plane a bilinear cell has no inner extremum, so the
 * nodes inside and the ground along the sheet's edges decide. The corners lie on one plane, in any order around; a sheet
 * with more than three corners may be of any outline. Rasters in order of preference; what one lacks the next answers for.
 *
 * The edges are straight in the raster, so that a sheet should be no larger than some hundreds of metres: half a
 * kilometre of a geodesic leaves its chord by less than a centimetre in longitude and latitude up to 60° north and south.
 */
export const groundUnderSheet = (grids: readonly HeightGrid[], corners: readonly SheetCorner[]): UnderSheet => {
  const [first] = corners;
  if (first === undefined) return { ...NOTHING, unknown: true };
  return rangeOfPart(
    grids,
    corners.map(({ at, altitude }) => ({
      lon: first.at.lon + longitudeStep(first.at.lon, at.lon),
      lat: at.lat,
      altitude,
      x: 0,
      y: 0,
    })),
  );
};

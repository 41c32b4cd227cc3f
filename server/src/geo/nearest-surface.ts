import { aboveSea, type LonLat, lonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { wrapLongitude } from './box.ts';
import type { HeightGrid } from './height-grid.ts';
import { hasGroundAt, nodeHeight } from './terrain-walk.ts';
import { nearestOnTriangle, type Vector } from './triangle.ts';

/**
 * Distance from a craft to the nearest place of the ground, in three dimensions: the measure of (EU) 2019/947
 * UAS.OPEN.010(2), "120 metres from the closest point of the surface of the earth".
 */
export interface NearestSurface {
  readonly distance: Metres;
  readonly at: LonLat;
  readonly ground: MetresAboveSea;
}

/** Undefined surface: none within reach. `unknown`: some ground within reach has no data. */
export interface SurfaceSearch {
  readonly nearest: NearestSurface | undefined;
  readonly unknown: boolean;
}

/** The flat triangles that stand for a bilinear cell leave it by no more than this, in metres. */
const FLATNESS = 0.005;

/** Metres of the earth's surface fall away from its tangent plane by the square of the distance over this. */
const TWICE_EARTH_RADIUS = 2 * 6_371_000;

/** Raster steps in metres east and north around a place. Within some hundreds of metres the raster is affine to a centimetre. */
interface LocalFrame {
  readonly x: number;
  readonly y: number;
  /** Metres east and north for a step of one column and of one row. */
  readonly columnEast: number;
  readonly columnNorth: number;
  readonly rowEast: number;
  readonly rowNorth: number;
}

/** Degrees: some ten metres. */
const SCALE_STEP = 1e-4;

/** Radii of curvature of WGS 84 along the meridian and across it, in metres per degree. */
const metresPerDegree = (latitude: number): { readonly east: number; readonly north: number } => {
  const a = 6_378_137;
  const e2 = 0.00669437999014;
  const radians = (latitude * Math.PI) / 180;
  const w = Math.sqrt(1 - e2 * Math.sin(radians) ** 2);
  return {
    east: ((a / w) * Math.cos(radians) * Math.PI) / 180,
    north: ((a * (1 - e2)) / w ** 3 / 180) * Math.PI,
  };
};

const frameAt = (grid: HeightGrid, at: LonLat): LocalFrame | undefined => {
  const { x, y } = grid.toGrid(at);
  const scale = metresPerDegree(at.lat);
  const east = [1, -1].map((sign) => grid.toGrid(lonLat(wrapLongitude(at.lon + sign * SCALE_STEP), at.lat)));
  const north = [1, -1].map((sign) => grid.toGrid(lonLat(at.lon, at.lat + sign * SCALE_STEP)));
  const slope = (ends: readonly { x: number; y: number }[], axis: 'x' | 'y', metresPerStep: number): number =>
    ((ends[0]?.[axis] ?? Number.NaN) - (ends[1]?.[axis] ?? Number.NaN)) / (2 * SCALE_STEP * metresPerStep);
  const xEast = slope(east, 'x', scale.east);
  const yEast = slope(east, 'y', scale.east);
  const xNorth = slope(north, 'x', scale.north);
  const yNorth = slope(north, 'y', scale.north);
  const determinant = xEast * yNorth - xNorth * yEast;
  if (!(Math.abs(determinant) > 0)) return undefined;
  return {
    x,
    y,
    columnEast: yNorth / determinant,
    columnNorth: -yEast / determinant,
    rowEast: -xNorth / determinant,
    rowNorth: xEast / determinant,
  };
};

/** A rectangle of a cell in node coordinates, with the ground at its corners. */
interface Patch {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly h00: number;
  readonly h10: number;
  readonly h01: number;
  readonly h11: number;
}

interface Search {
  readonly craft: number;
  /** Some ground is no farther than this, although its place may not be known yet; what is farther need not be searched. */
  bound: number;
  best: number;
  foot: Vector;
}

const pointOf = (frame: LocalFrame, craft: number, x: number, y: number, height: number): Vector => {
  const east = (x - frame.x) * frame.columnEast + (y - frame.y) * frame.rowEast;
  const north = (x - frame.x) * frame.columnNorth + (y - frame.y) * frame.rowNorth;
  // The ground drops below the tangent plane of the craft's place.
  return [east, north, height - craft - (east * east + north * north) / TWICE_EARTH_RADIUS];
};

const lengthOf = ([x, y, z]: Vector): number => Math.hypot(x, y, z);

/** A distance that nothing of a patch is nearer than: that of the box around its corners. */
const leastOf = (corners: readonly Vector[]): number => {
  const gap = (axis: 0 | 1 | 2): number => {
    const values = corners.map((corner) => corner[axis]);
    return Math.max(0, Math.min(...values), -Math.max(...values));
  };
  return Math.hypot(gap(0), gap(1), gap(2));
};

const look = (search: Search, foot: Vector): void => {
  const distance = lengthOf(foot);
  if (distance >= search.best) return;
  search.best = distance;
  search.bound = Math.min(search.bound, distance);
  search.foot = foot;
};

/** Ground at least this far away cannot be the nearest; the flatness is what the distance to a flat patch may be off by. */
const tooFar = (search: Search): number => search.bound + FLATNESS;

/** Halves a patch until it is as good as flat or cannot hold anything nearer than what is known. */
const searchPatch = (search: Search, frame: LocalFrame, patch: Patch): void => {
  const { x0, y0, x1, y1, h00, h10, h01, h11 } = patch;
  const nw = pointOf(frame, search.craft, x0, y0, h00);
  const ne = pointOf(frame, search.craft, x1, y0, h10);
  const sw = pointOf(frame, search.craft, x0, y1, h01);
  const se = pointOf(frame, search.craft, x1, y1, h11);
  if (leastOf([nw, ne, sw, se]) >= tooFar(search)) return;
  // A bilinear patch leaves its two triangles by at most a quarter of its twist; a patch 100 m wide bends by 0.2 mm.
  const bend = Math.abs(h00 - h10 - h01 + h11) / 4;
  const [one, other] = [nearestOnTriangle(nw, ne, sw), nearestOnTriangle(se, ne, sw)];
  if (bend <= FLATNESS) {
    look(search, one);
    look(search, other);
    return;
  }
  const distance = Math.min(lengthOf(one), lengthOf(other));
  if (distance - bend >= tooFar(search)) return;
  search.bound = Math.min(search.bound, distance + bend);
  const x = (x0 + x1) / 2;
  const y = (y0 + y1) / 2;
  const north = (h00 + h10) / 2;
  const south = (h01 + h11) / 2;
  const west = (h00 + h01) / 2;
  const east = (h10 + h11) / 2;
  const middle = (north + south) / 2;
  searchPatch(search, frame, { x0, y0, x1: x, y1: y, h00, h10: north, h01: west, h11: middle });
  searchPatch(search, frame, { x0: x, y0, x1, y1: y, h00: north, h10, h01: middle, h11: east });
  searchPatch(search, frame, { x0, y0: y, x1: x, y1, h00: west, h10: middle, h01, h11: south });
  searchPatch(search, frame, { x0: x, y0: y, x1, y1, h00: middle, h10: east, h01: south, h11 });
};

/** First and last column and row of cells that a disc of so many metres around the craft's place can touch. */
const cellsWithin = (frame: LocalFrame, radius: number): readonly [number, number, number, number] => {
  const determinant = Math.abs(frame.columnEast * frame.rowNorth - frame.rowEast * frame.columnNorth);
  const columns = (radius * Math.hypot(frame.rowEast, frame.rowNorth)) / determinant;
  const rows = (radius * Math.hypot(frame.columnEast, frame.columnNorth)) / determinant;
  return [
    Math.floor(frame.x - columns),
    Math.floor(frame.x + columns),
    Math.floor(frame.y - rows),
    Math.floor(frame.y + rows),
  ];
};

/** A raster with the way it lies around the craft. */
interface Layer {
  readonly grid: HeightGrid;
  readonly frame: LocalFrame;
}

/** Metres east and north of the craft. */
type Offset = readonly [east: number, north: number];

const offsetOf = ({ frame }: Layer, x: number, y: number): Offset => [
  (x - frame.x) * frame.columnEast + (y - frame.y) * frame.rowEast,
  (x - frame.x) * frame.columnNorth + (y - frame.y) * frame.rowNorth,
];

/** Whether a raster has ground at a place some metres from the craft. */
const knows = ({ grid, frame }: Layer, [east, north]: Offset): boolean => {
  const determinant = frame.columnEast * frame.rowNorth - frame.rowEast * frame.columnNorth;
  const x = frame.x + (frame.rowNorth * east - frame.rowEast * north) / determinant;
  const y = frame.y + (frame.columnEast * north - frame.columnNorth * east) / determinant;
  return hasGroundAt(grid, x, y);
};

/** The corners and the middle of a cell. */
const placesOf = (layer: Layer, column: number, row: number): readonly Offset[] =>
  [
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
    [0.5, 0.5],
  ].map(([x, y]) => offsetOf(layer, column + (x ?? 0), row + (y ?? 0)));

/** A distance over the ground that no place of a cell is nearer than: that of the box around its corners. */
const awayOf = (layer: Layer, column: number, row: number): number =>
  leastOf(placesOf(layer, column, row).map(([east, north]): Vector => [east, north, 0]));

/**
 * Visits the cells of one layer in reach. A cell that better layers know at its corners and its middle is theirs; one
 * that they know in part counts whole. Gives the distance to the nearest cell that neither this layer nor another knows.
 */
const searchLayer = (search: Search, layer: Layer, better: readonly Layer[], others: readonly Layer[]): number => {
  const { grid, frame } = layer;
  let nearestHole = Number.POSITIVE_INFINITY;
  // Half of a cell's longer diagonal: no place of a cell is farther from its middle.
  const half =
    Math.max(
      Math.hypot(frame.columnEast + frame.rowEast, frame.columnNorth + frame.rowNorth),
      Math.hypot(frame.columnEast - frame.rowEast, frame.columnNorth - frame.rowNorth),
    ) / 2;
  const visit = (column: number, row: number): void => {
    // Most cells lie beyond what is known already, and are told so without looking closer.
    const x = column + 0.5 - frame.x;
    const y = row + 0.5 - frame.y;
    const middleEast = x * frame.columnEast + y * frame.rowEast;
    const middleNorth = x * frame.columnNorth + y * frame.rowNorth;
    const level = Math.max(0, Math.sqrt(middleEast * middleEast + middleNorth * middleNorth) - half);
    if (level >= tooFar(search)) return;
    const h00 = nodeHeight(grid, column, row);
    const h10 = nodeHeight(grid, column + 1, row);
    const h01 = nodeHeight(grid, column, row + 1);
    const h11 = nodeHeight(grid, column + 1, row + 1);
    const hasData = !Number.isNaN(h00 + h10 + h01 + h11);
    const below = hasData ? search.craft - Math.max(h00, h10, h01, h11) : 0;
    if (below > 0 && level * level + below * below >= tooFar(search) ** 2) return;
    const rivals = hasData ? better : others;
    const isKnown =
      rivals.length > 0 && placesOf(layer, column, row).every((place) => rivals.some((rival) => knows(rival, place)));
    if (isKnown) return;
    const cell = { x0: column, y0: row, x1: column + 1, y1: row + 1, h00, h10, h01, h11 };
    if (hasData) searchPatch(search, frame, cell);
    else nearestHole = Math.min(nearestHole, awayOf(layer, column, row));
  };
  // The ground below comes first: it rules out most of the rest.
  visit(Math.floor(frame.x), Math.floor(frame.y));
  const [west, east, north, south] = cellsWithin(frame, tooFar(search));
  for (let row = north; row <= south; row++) for (let column = west; column <= east; column++) visit(column, row);
  return nearestHole;
};

/**
 * The nearest place of the ground within `radius` metres of a craft, exact to a centimetre for radii up to some hundreds
 * of metres. Rasters in order of preference; what one lacks the next answers for.
 */
export const nearestSurface = (
  grids: readonly HeightGrid[],
  at: LonLat,
  altitude: MetresAboveSea,
  radius: Metres,
): SurfaceSearch => {
  const layers = grids.flatMap((grid): Layer[] => {
    const frame = frameAt(grid, at);
    return frame === undefined || !Number.isFinite(frame.x + frame.y) ? [] : [{ grid, frame }];
  });
  const [first] = layers;
  if (first === undefined) return { nearest: undefined, unknown: true };
  const search: Search = { craft: altitude, bound: radius, best: radius, foot: [0, 0, 0] };
  let nearestHole = Number.POSITIVE_INFINITY;
  layers.forEach((layer, i) => {
    const hole = searchLayer(search, layer, layers.slice(0, i), layers.slice(1));
    // The first layer's cells, also those outside its raster, tile the whole plane: holes are counted on them.
    if (i === 0) nearestHole = hole;
  });
  // A cell without data matters only where it could hold something nearer than what was found.
  const unknown = nearestHole < search.best;
  if (search.best >= radius) return { nearest: undefined, unknown };
  const [eastward, northward, up] = search.foot;
  const scale = metresPerDegree(at.lat);
  const place = lonLat(wrapLongitude(at.lon + eastward / scale.east), at.lat + northward / scale.north);
  const ground = altitude + up + (eastward * eastward + northward * northward) / TWICE_EARTH_RADIUS;
  return { nearest: { distance: metres(search.best), at: place, ground: aboveSea(ground) }, unknown };
};

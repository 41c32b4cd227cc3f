import { aboveSea, type LonLat, lonLat, type MetresAboveSea } from '../units/frames.ts';
import { wrapLongitude } from './box.ts';
import type { LegPath } from './geodesy.ts';
import { addPiece, addUnknown, closeProfile, draftProfile, type ProfileDraft } from './ground-profile.ts';
import type { GroundProfile, HeightGrid } from './height-grid.ts';
import { cutStraight, type Plane } from './straight-pieces.ts';

/** No piece of a leg leaves its chord in the raster by more than this. Half of the promised centimetre. */
const CHORD_TOLERANCE = 0.005;

/**
 * How many cells a place may lie outside the raster and still be on its edge: a centimetre, the exactness that places
 * have here. A leg between two places on the edge bulges out of it by that much over some seven hundred metres.
 */
export const edgeSlack = (grid: HeightGrid): number => (grid.cellMetres > 0.1 ? 0.01 / grid.cellMetres : 1e-6);

/** Step in degrees for the raster's local scale: some ten metres, far from the rounding of longitude and latitude. */
const SCALE_STEP = 1e-4;

/** Metres per degree of latitude and, times the cosine, of longitude; within 1 % of the ellipsoid everywhere. */
const DEGREE = 111_320;

/**
 * The raster's node coordinates as a plane, with the length of small steps around one place. The length serves to judge
 * how straight a chord is, so one per cent is plenty.
 */
export const gridPlane = (grid: HeightGrid, around: LonLat): Plane => {
  const east = DEGREE * Math.max(Math.cos((around.lat * Math.PI) / 180), 1e-6) * SCALE_STEP;
  const towardsPole = around.lat > 0 ? -SCALE_STEP : SCALE_STEP;
  const north = DEGREE * towardsPole;
  const here = grid.toGrid(around);
  const eastward = grid.toGrid(lonLat(wrapLongitude(around.lon + SCALE_STEP), around.lat));
  const northward = grid.toGrid(lonLat(around.lon, around.lat + towardsPole));
  const xEast = (eastward.x - here.x) / east;
  const yEast = (eastward.y - here.y) / east;
  const xNorth = (northward.x - here.x) / north;
  const yNorth = (northward.y - here.y) / north;
  const determinant = xEast * yNorth - xNorth * yEast;
  return {
    place: (at) => grid.toGrid(at),
    metres: (dx, dy) => Math.hypot((yNorth * dx - xNorth * dy) / determinant, (xEast * dy - yEast * dx) / determinant),
  };
};

/** Height of a node in metres above mean sea level, NaN without data or outside the raster. */
export const nodeHeight = (grid: HeightGrid, column: number, row: number): number => {
  if (column < 0 || row < 0 || column >= grid.columns || row >= grid.rows) return Number.NaN;
  const height = grid.heights[row * grid.columns + column];
  return height === undefined || height === grid.noData ? Number.NaN : height;
};

/** The cell that holds a coordinate on an axis with so many nodes; -1 outside. */
const cellOn = (coordinate: number, nodes: number, slack: number): number => {
  if (!(coordinate >= -slack && coordinate <= nodes - 1 + slack) || nodes < 2) return -1;
  return Math.min(Math.max(Math.floor(coordinate), 0), nodes - 2);
};

const cellHasData = (grid: HeightGrid, column: number, row: number): boolean =>
  !Number.isNaN(
    nodeHeight(grid, column, row) +
      nodeHeight(grid, column + 1, row) +
      nodeHeight(grid, column, row + 1) +
      nodeHeight(grid, column + 1, row + 1),
  );

/**
 * The cell with data whose bilinear ground holds at a place, as the index of its first node; -1 without one. A place
 * on the border of a cell without data is served by the neighbour, whose ground is the same there.
 */
const cellFor = (grid: HeightGrid, x: number, y: number): number => {
  const column = cellOn(x, grid.columns, edgeSlack(grid));
  const row = cellOn(y, grid.rows, edgeSlack(grid));
  if (column < 0 || row < 0) return -1;
  if (cellHasData(grid, column, row)) return row * grid.columns + column;
  const west = x === column && column > 0;
  const north = y === row && row > 0;
  if (west && cellHasData(grid, column - 1, row)) return row * grid.columns + column - 1;
  if (north && cellHasData(grid, column, row - 1)) return (row - 1) * grid.columns + column;
  if (west && north && cellHasData(grid, column - 1, row - 1)) return (row - 1) * grid.columns + column - 1;
  return -1;
};

/** Whether the raster has ground at a place in node coordinates. */
export const hasGroundAt = (grid: HeightGrid, x: number, y: number): boolean => cellFor(grid, x, y) >= 0;

/** A straight line in node coordinates, flown from `along` over `length` metres. */
export interface GridLine {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  readonly along: number;
  readonly length: number;
}

/** Ground under a part of a line within one cell, from share `from` of the line on; `middle` decides on the cell. */
const addCell = (grid: HeightGrid, line: GridLine, from: number, middle: number, draft: ProfileDraft): void => {
  const along = line.along + from * line.length;
  const cell = cellFor(grid, line.x + middle * line.dx, line.y + middle * line.dy);
  if (cell < 0) {
    addUnknown(draft, along);
    return;
  }
  const row = Math.floor(cell / grid.columns);
  const column = cell - row * grid.columns;
  const corner = nodeHeight(grid, column, row);
  const acrossX = nodeHeight(grid, column + 1, row) - corner;
  const acrossY = nodeHeight(grid, column, row + 1) - corner;
  const twist = nodeHeight(grid, column + 1, row + 1) - corner - acrossX - acrossY;
  const p = line.x + from * line.dx - column;
  const q = line.y + from * line.dy - row;
  const pPerMetre = line.length > 0 ? line.dx / line.length : 0;
  const qPerMetre = line.length > 0 ? line.dy / line.length : 0;
  addPiece(
    draft,
    along,
    corner + p * acrossX + q * acrossY + p * q * twist,
    pPerMetre * acrossX + qPerMetre * acrossY + twist * (p * qPerMetre + q * pPerMetre),
    twist * pPerMetre * qPerMetre,
  );
};

/** Share of the line at which a coordinate enters and leaves [-slack, nodes - 1 + slack]. */
const withinAxis = (start: number, step: number, nodes: number, slack: number): readonly [number, number] => {
  const low = -slack;
  const high = nodes - 1 + slack;
  if (step === 0) return start >= low && start <= high ? [0, 1] : [1, 0];
  const one = (low - start) / step;
  const other = (high - start) / step;
  return [Math.max(0, Math.min(one, other)), Math.min(1, Math.max(one, other))];
};

/** Adds the ground under a straight line to a draft, cell by cell. */
export const walkLine = (grid: HeightGrid, line: GridLine, draft: ProfileDraft): void => {
  const [enterX, leaveX] = withinAxis(line.x, line.dx, grid.columns, edgeSlack(grid));
  const [enterY, leaveY] = withinAxis(line.y, line.dy, grid.rows, edgeSlack(grid));
  const enter = Math.max(enterX, enterY);
  const leave = Math.min(leaveX, leaveY);
  if (!(enter < leave)) {
    addUnknown(draft, line.along);
    return;
  }
  if (enter > 0) addUnknown(draft, line.along);

  // The walk goes from one crossing of a column or row of nodes to the next. Which cell a stretch lies in is decided at
  // its middle, so that rounding at a crossing, an edge or a node cannot pick a wrong one.
  const stepX = line.dx > 0 ? 1 : -1;
  const stepY = line.dy > 0 ? 1 : -1;
  const startX = line.x + enter * line.dx;
  const startY = line.y + enter * line.dy;
  let column = line.dx > 0 ? Math.floor(startX) + 1 : Math.ceil(startX) - 1;
  let row = line.dy > 0 ? Math.floor(startY) + 1 : Math.ceil(startY) - 1;
  let at = enter;
  while (at < leave) {
    const atColumn = line.dx === 0 ? Number.POSITIVE_INFINITY : (column - line.x) / line.dx;
    const atRow = line.dy === 0 ? Number.POSITIVE_INFINITY : (row - line.y) / line.dy;
    const next = Math.min(atColumn, atRow, leave);
    if (atColumn <= next) column += stepX;
    if (atRow <= next) row += stepY;
    if (next <= at) continue;
    addCell(grid, line, at, (at + next) / 2, draft);
    at = next;
  }
  if (leave < 1) addUnknown(draft, line.along + leave * line.length);
};

/** The ground under a path, exact for the raster's bilinear surface; the path's place in the raster within 1 cm. */
export const groundAlong = (grid: HeightGrid, path: LegPath): GroundProfile => {
  const draft = draftProfile();
  if (!(path.length > 0)) {
    const { x, y } = grid.toGrid(path.from);
    addCell(grid, { x, y, dx: 0, dy: 0, along: 0, length: 0 }, 0, 0, draft);
    return closeProfile(draft, 0);
  }
  const cut = cutStraight(path, gridPlane(grid, path.at(path.length / 2)), CHORD_TOLERANCE);
  for (let i = 0; i < cut.broken.length; i++) {
    const along = cut.along[i] ?? 0;
    if (cut.broken[i] === 1) {
      addUnknown(draft, along);
      continue;
    }
    const x = cut.x[i] ?? Number.NaN;
    const y = cut.y[i] ?? Number.NaN;
    const dx = (cut.x[i + 1] ?? Number.NaN) - x;
    const dy = (cut.y[i + 1] ?? Number.NaN) - y;
    walkLine(grid, { x, y, dx, dy, along, length: (cut.along[i + 1] ?? along) - along }, draft);
  }
  return closeProfile(draft, path.length);
};

/** Ground at a place, undefined where the raster has no data. */
export const groundAt = (grid: HeightGrid, at: LonLat): MetresAboveSea | undefined => {
  const { x, y } = grid.toGrid(at);
  const draft = draftProfile();
  addCell(grid, { x, y, dx: 0, dy: 0, along: 0, length: 0 }, 0, 0, draft);
  const height = draft.a[0] ?? Number.NaN;
  return Number.isNaN(height) ? undefined : aboveSea(height);
};

import { type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { flatFrame } from './flat-frame.ts';
import { type LegPath, legPath } from './geodesy.ts';
import { type Interval, mergeIntervals } from './interval.ts';
import type { GroundThere, SheetCorner, UnderSheet } from './sheet-over-terrain.ts';

/** The two edges of a part of a fan: the lines from its apex to the start and to the end of a stretch of the path. */
export type FanEdge = 'from' | 'to';

/** A sheet on one side of all the lines of a fan to a stretch of its path. */
export interface FanSheet {
  /**
   * Altitude on one of the two edges, at a share of the way from the apex and with the length of that edge in metres.
   * Straight between neighbouring shares it lies on its side of the lines.
   */
  altitude(edge: FanEdge, share: number, length: number): MetresAboveSea;
  /** Metres by which the sheet may lie farther out than the lines themselves. */
  readonly slack: number;
}

/**
 * Straight lines from one place to every place of a path: what somebody looks along, or flies home on. Seen from above
 * they cover the triangle between the apex and the path.
 */
export interface Fan {
  readonly apex: LonLat;
  readonly path: LegPath;
  /** A sheet that is nowhere above the lines to a stretch, and one that is nowhere below them. */
  below(stretch: Interval): FanSheet;
  above(stretch: Interval): FanSheet;
}

/** The ground under a flat sheet; `Terrain.underSheet`. */
export type GroundUnder = (corners: readonly SheetCorner[]) => UnderSheet;

/** Sides of the flat pieces that a fan is cut into, in metres: see `groundUnderSheet` for why no longer. */
const PIECE = 400;

/** The flat triangles of a part of a fan, from the apex outwards. */
const eachTriangle = (
  fan: Fan,
  stretch: Interval,
  sheet: FanSheet,
  visit: (corners: readonly SheetCorner[]) => void,
): void => {
  const edges = {
    from: legPath(fan.apex, fan.path.at(stretch.from)),
    to: legPath(fan.apex, fan.path.at(stretch.to)),
  };
  const bands = Math.max(1, Math.ceil(Math.max(edges.from.length, edges.to.length) / PIECE));
  const corner = (edge: FanEdge, band: number): SheetCorner => {
    const share = band / bands;
    const line = edges[edge];
    return { at: line.at(share * line.length), altitude: sheet.altitude(edge, share, line.length) };
  };
  let near: readonly [SheetCorner, SheetCorner] = [corner('from', 0), corner('to', 0)];
  for (let band = 1; band <= bands; band++) {
    const far: readonly [SheetCorner, SheetCorner] = [corner('from', band), corner('to', band)];
    visit([near[0], far[0], far[1]]);
    if (band > 1) visit([near[0], far[1], near[1]]);
    near = far;
  }
};

/** The ground under a part of a fan. A stretch without length is one line. */
const underPart = (fan: Fan, stretch: Interval, sheet: FanSheet, ground: GroundUnder): UnderSheet => {
  let least: GroundThere | undefined;
  let greatest: GroundThere | undefined;
  let unknown = false;
  eachTriangle(fan, stretch, sheet, (corners) => {
    const under = ground(corners);
    if (under.least !== undefined && (least === undefined || under.least.over < least.over)) least = under.least;
    if (under.greatest !== undefined && (greatest === undefined || under.greatest.over > greatest.over)) {
      greatest = under.greatest;
    }
    unknown ||= under.unknown;
  });
  return { least, greatest, unknown };
};

/** Where the line from the apex over a place meets the path, in metres along it, on a stretch of that. */
const alongOf = (fan: Fan, at: LonLat, { from, to }: Interval): number => {
  const frame = flatFrame(fan.apex);
  const start = frame.place(fan.path.at(from));
  const end = frame.place(fan.path.at(to));
  const place = frame.place(at);
  const [dx, dy] = [end.x - start.x, end.y - start.y];
  const share = (place.y * start.x - place.x * start.y) / (place.x * dy - place.y * dx);
  return Number.isFinite(share) ? from + Math.min(1, Math.max(0, share)) * (to - from) : from;
};

/** A place where the ground stands in a line of a fan. */
export interface InTheWay extends GroundThere {
  /** Metres along the path to the end of that line. */
  readonly along: number;
}

export interface Blocked {
  /** Stretches of the path whose lines the ground stands in: each such line is in one of them. In order. */
  readonly stretches: readonly Interval[];
  /** Where the ground is highest over a line. */
  readonly worst: InTheWay | undefined;
  /** The highest ground that stands in any line. */
  readonly highest: InTheWay | undefined;
  /** Whether the ground under a part of the fan is not known. */
  readonly unknown: boolean;
}

/** Where the ground comes nearer to a line than this it stands in it, in metres: what limits are compared to. */
const TOUCHES = -0.001;
/** A stretch that is blocked at both ends and in the middle counts as a whole up to this length, in metres. */
const WHOLE = 50;
/** Other stretches are cut until they are this short, in metres, or where a sheet is too coarse, to the second. */
const SHORT = 1;
const SHORTEST = 0.05;
/** A sheet that lies no farther out than this is as good as the lines themselves, in metres. */
const FINE = 0.001;

const higherOf = (one: InTheWay | undefined, other: InTheWay, by: 'over' | 'ground'): InTheWay =>
  one === undefined || other[by] > one[by] ? other : one;

/** Ends of equal parts of a path, none longer than a piece. */
const partsOf = (length: number): readonly Interval[] => {
  const parts = Math.max(1, Math.ceil(length / PIECE));
  return Array.from({ length: parts }, (_, i) => ({ from: (length * i) / parts, to: (length * (i + 1)) / parts }));
};

/**
 * The stretches of a path to which the ground stands in the line from the apex. Certified: what is in none of them has no
 * ground in its line. They may reach a metre too far, and over gaps of less than 25 m between lines that are blocked.
 */
export const blockedLines = (fan: Fan, ground: GroundUnder): Blocked => {
  const stretches: Interval[] = [];
  let worst: InTheWay | undefined;
  let highest: InTheWay | undefined;
  let unknown = false;
  const lines = new Map<number, boolean>();
  const isLineBlocked = (along: number): boolean => {
    const known = lines.get(along);
    if (known !== undefined) return known;
    const here = { from: along, to: along };
    const { greatest } = underPart(fan, here, fan.below(here), ground);
    const blocked = greatest !== undefined && greatest.over > TOUCHES;
    lines.set(along, blocked);
    return blocked;
  };
  const judge = (stretch: Interval): void => {
    const sheet = fan.below(stretch);
    const under = underPart(fan, stretch, sheet, ground);
    unknown ||= under.unknown;
    const { greatest } = under;
    if (greatest === undefined || greatest.over <= TOUCHES) return;
    const length = stretch.to - stretch.from;
    const middle = (stretch.from + stretch.to) / 2;
    const surely = greatest.over - sheet.slack > TOUCHES;
    const isWhole =
      surely &&
      sheet.slack <= FINE &&
      length <= WHOLE &&
      [stretch.from, middle, stretch.to].every((along) => isLineBlocked(along));
    if (isWhole || (surely && length <= SHORT) || length <= SHORTEST) {
      stretches.push(stretch);
      const there = { ...greatest, along: alongOf(fan, greatest.at, stretch) };
      worst = higherOf(worst, there, 'over');
      highest = higherOf(highest, there, 'ground');
      return;
    }
    judge({ from: stretch.from, to: middle });
    judge({ from: middle, to: stretch.to });
  };
  for (const part of partsOf(fan.path.length)) judge(part);
  return { stretches: mergeIntervals(stretches), worst, highest, unknown };
};

export interface OverGround {
  /** Where a line is highest over the ground: `over` is negative there. */
  readonly greatest: InTheWay | undefined;
  readonly unknown: boolean;
}

/**
 * Where any line of a fan is highest over the ground below it, never less than the truth and at most `slack` of the
 * finest sheet more.
 */
export const highestLine = (fan: Fan, ground: GroundUnder): OverGround => {
  let greatest: InTheWay | undefined;
  let unknown = false;
  const judge = (stretch: Interval): void => {
    const sheet = fan.above(stretch);
    const under = underPart(fan, stretch, sheet, ground);
    unknown ||= under.unknown;
    const { least } = under;
    if (least === undefined || (greatest !== undefined && least.over >= greatest.over)) return;
    if (sheet.slack > FINE && stretch.to - stretch.from > SHORT) {
      const middle = (stretch.from + stretch.to) / 2;
      judge({ from: stretch.from, to: middle });
      judge({ from: middle, to: stretch.to });
      return;
    }
    greatest = { ...least, along: alongOf(fan, least.at, stretch) };
  };
  for (const part of partsOf(fan.path.length)) judge(part);
  return { greatest, unknown };
};

/** The outline of a part of a fan seen from above: the apex and the ends of the stretch. */
export const outlineOfPart = (fan: Fan, { from, to }: Interval): readonly LonLat[] => [
  fan.apex,
  fan.path.at(from),
  fan.path.at(to),
];

export const lengthOfLine = (fan: Fan, along: number): Metres => metres(legPath(fan.apex, fan.path.at(along)).length);

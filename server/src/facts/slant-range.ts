import { destination, distance, inverse } from '../geo/geodesy.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import { type LonLat, type Metres, type MetresAboveSea, metres, onGround } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools } from './fact.ts';
import { heightAtItem } from './item-height.ts';
import type { Partly } from './lacking.ts';
import { type CraftAlong, legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { groundUnder, type Watcher, watchersOf } from './watchers.ts';

/** The farthest that the craft gets from one watcher, in a straight line through the air. */
export interface SlantRange {
  readonly watcher: Watcher;
  readonly range: Metres;
  readonly at: LonLat;
  /** Metres from the start of the leg; absent in an area. */
  readonly along?: number;
}

export interface SlantRanges extends Partly {
  readonly ranges: readonly SlantRange[];
}

const slant = (level: number, up: number): Metres => metres(Math.hypot(level, up));

/**
 * Along a straight leg the distance over the ground and the difference in height are both convex, and so is the slant
 * range: it is greatest at one of the ends.
 */
const alongStraight = (
  leg: Leg,
  craft: CraftAlong & { kind: 'straight' },
  watcher: Watcher,
  tools: FactTools,
): SlantRange => {
  const path = tools.ask(pathOfLeg, leg);
  const start = slant(
    distance(watcher.at, path.from),
    craft.start.aboveSea - groundUnder(watcher, craft.start.written),
  );
  const end = slant(distance(watcher.at, path.to), craft.end.aboveSea - groundUnder(watcher, craft.end.written));
  return start >= end
    ? { watcher, range: start, at: path.from, along: 0 }
    : { watcher, range: end, at: path.to, along: path.length };
};

/** Greatest difference in height on a piece of ground between a watcher and a craft that follows the ground. */
const greatestRise = (
  profile: GroundProfile,
  piece: number,
  craft: CraftAlong & { kind: 'follows' },
  watcher: Watcher,
): number => {
  const a = profile.a[piece] ?? Number.NaN;
  const b = profile.b[piece] ?? 0;
  const c = profile.c[piece] ?? 0;
  const length = (profile.along[piece + 1] ?? 0) - (profile.along[piece] ?? 0);
  const turn = c === 0 ? 0 : Math.min(length, Math.max(0, -b / (2 * c)));
  const offsets = [0, turn, length].map((t) => a + (b + c * t) * t + craft.height - watcher.ground);
  return Math.max(...offsets.map(Math.abs)) + craft.within;
};

/** Piece by piece of the ground, never less than the true range and at most the rise within one piece more. */
const alongGround = (
  leg: Leg,
  craft: CraftAlong & { kind: 'follows' },
  watcher: Watcher,
  tools: FactTools,
): SlantRange | Missing => {
  const path = tools.ask(pathOfLeg, leg);
  const profile = tools.ask(legGround, leg);
  let farthest: SlantRange = { watcher, range: metres(0), at: path.from, along: 0 };
  let before = distance(watcher.at, path.from);
  for (let piece = 0; piece < profile.pieces; piece++) {
    const along = profile.along[piece + 1] ?? 0;
    const after = distance(watcher.at, path.at(along));
    const rise = greatestRise(profile, piece, craft, watcher);
    if (Number.isNaN(rise)) {
      return { missing: `the terrain has no data along a part of the leg to ${leg.to.id.value}, which follows it` };
    }
    const range = slant(Math.max(before, after), rise);
    const there = after >= before ? along : (profile.along[piece] ?? 0);
    if (range > farthest.range) farthest = { watcher, range, at: path.at(there), along: there };
    before = after;
  }
  return farthest;
};

/** The farthest slant range on a leg from each person who watches the flight. */
export const legSlantRanges = defineFact({
  name: 'leg-slant-ranges',
  derive: (leg: Leg, tools: FactTools): SlantRanges => {
    const { watchers, lacking } = tools.ask(watchersOf, leg.flight.first);
    const craft = tools.ask(legAltitudes, leg);
    const ranges: SlantRange[] = [];
    const holes: Missing[] = [...lacking];
    for (const watcher of watchers) {
      const range =
        craft.kind === 'straight' ? alongStraight(leg, craft, watcher, tools) : alongGround(leg, craft, watcher, tools);
      if ('missing' in range) holes.push(range);
      else ranges.push(range);
    }
    return { ranges, lacking: holes };
  },
});

/** Lowest or highest altitude of one end of an area's band, over any of its ground. */
const extremeOf = (item: Item, written: WrittenHeight, end: 'lower' | 'upper', tools: FactTools): MetresAboveSea => {
  const height = written.value;
  if (!('aboveGround' in height)) return heightAtItem(written, item, tools).aboveSea;
  const ground = tools.ask(areaGround, item);
  return onGround(end === 'upper' ? ground.greatest : ground.least, height.aboveGround);
};

/** The place of an area that is farthest from another place, over the ground. */
const farthestPlace = (item: Item, from: LonLat, tools: FactTools): LonLat => {
  const { shape, ring } = tools.ask(areaShape, item);
  if (shape.kind === 'circle') return destination(shape.centre, inverse(from, shape.centre).course, shape.radius);
  // A polygon has no place farther away than its farthest corner.
  return ring.reduce((best, corner) => (distance(from, corner) > distance(from, best) ? corner : best));
};

/**
 * The farthest slant range in a hand-flown area from each person who watches: to its farthest place, at whichever end of
 * its band differs most in height from the watcher. Never less than the true range.
 */
export const areaSlantRanges = defineFact({
  name: 'area-slant-ranges',
  derive: (item: Item, tools: FactTools): SlantRanges => {
    const { flight } = routePlaceOf(item, tools);
    const { watchers, lacking } = tools.ask(watchersOf, flight.first);
    const { lower, upper } = bandOf(item);
    const lowest = extremeOf(item, lower, 'lower', tools);
    const highest = extremeOf(item, upper, 'upper', tools);
    const ranges = watchers.map((watcher): SlantRange => {
      const at = farthestPlace(item, watcher.at, tools);
      const rise = Math.max(
        Math.abs(lowest - groundUnder(watcher, lower)),
        Math.abs(highest - groundUnder(watcher, upper)),
      );
      return { watcher, range: slant(distance(watcher.at, at), rise), at };
    });
    return { ranges, lacking };
  },
});

import { exceeds, outdoes } from '../units/exceeds.ts';
import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { distance, type LegPath, legPath } from './geodesy.ts';
import { groundOf, mergeProfiles } from './ground-profile.ts';
import type { GroundProfile, HeightGrid } from './height-grid.ts';
import type { Interval } from './interval.ts';
import { type NearestSurface, nearestSurface, type SurfaceSearch } from './nearest-surface.ts';
import { heightOverGround } from './quadratic.ts';
import { bulgeOf } from './stretch-height.ts';
import { groundAlong } from './terrain-walk.ts';

/** What is proven about a path and a greatest distance from the ground. */
export type SurfaceVerdict =
  | { readonly kind: 'within' }
  /** The worst place, to half a metre unless 200 searches do not tell; in any case a place that is over. */
  | { readonly kind: 'over'; readonly along: number; readonly at: LonLat; readonly distance: Metres }
  /** Within five centimetres of the limit, at the place named and nowhere over it by more. */
  | { readonly kind: 'at-the-limit'; readonly along: number; readonly at: LonLat }
  /** Ground without data could be nearer than what is known. */
  | { readonly kind: 'unknown'; readonly along: number; readonly at: LonLat }
  /** So near to the limit on so long a way that it was given up there; what comes before is within. */
  | { readonly kind: 'undecided'; readonly along: number; readonly at: LonLat };

/** Half a stretch of flight shorter than this changes the distance too little to matter: the limit is reached. */
const UNDECIDED = 0.05;
/** Half a stretch shorter than this with ground missing around it stays unknown. */
const HOPELESS = 1;
/** Searches after which the rest of a path that hugs the limit is given up. */
const MOST_SEARCHES = 5000;
/** How far the ground is looked for once the limit is known to be broken, as a multiple of it. */
const FAR = 4;
/** Searches for the worst place once the limit is known to be broken, and how near to it they have to come, in metres. */
const MOST_FOR_WORST = 200;
const NEAR_WORST = 0.5;
/** Searches in one step. One takes some tens of microseconds, on rasters of a metre up to a millisecond. */
const SEARCHES_IN_STEP = 2;
/** Stretches longer than this many times the limit are cut before anything is looked at. */
const LONGEST = 4;
/** A distance that is more by this is not over the limit yet: `units/exceeds`. */
const TOLERANCE = 0.001;

/** The nearest ground from one place of the path. */
interface Look {
  readonly along: number;
  readonly at: LonLat;
  readonly altitude: MetresAboveSea;
  readonly search: SurfaceSearch;
}

/** Metres of the earth's surface fall away from its tangent plane by the square of the distance over this. */
const TWICE_EARTH_RADIUS = 2 * 6_371_000;

/** From the craft to a place of the ground, in three dimensions. */
const distanceTo = ({ at, ground }: NearestSurface, craft: Look): number => {
  const level = distance(craft.at, at);
  return Math.hypot(level, craft.altitude - ground + (level * level) / TWICE_EARTH_RADIUS);
};

/** How far the straight line between two places of the ground is above the ground at most; infinite where it is unknown. */
const overhang = (grids: readonly HeightGrid[], from: NearestSurface, to: NearestSurface): number => {
  const path = legPath(from.at, to.at);
  const [first, ...rest] = grids.map((grid) => groundAlong(grid, path));
  if (first === undefined) return Number.POSITIVE_INFINITY;
  const { greatest, gaps } = heightOverGround(mergeProfiles([first, ...rest]), from.ground, to.ground, path.length);
  return greatest === undefined || gaps.length > 0 ? Number.POSITIVE_INFINITY : Math.max(0, greatest.value);
};

/** How high a craft is along a path. */
export interface CraftAltitude {
  /** Metres above mean sea level; NaN where it hangs on ground that is not known. */
  at(along: number): number;
  /** How far it rises at most above the straight line between the ends of a stretch, at least 0; NaN as above. */
  bulge(stretch: Interval): number;
}

/** In a straight line between two altitudes. Straight up, the distance from all below only grows: the upper end decides. */
export const straightBetween = (start: MetresAboveSea, end: MetresAboveSea, length: number): CraftAltitude => ({
  at: (along) => (length > 0 ? start + ((end - start) / length) * along : Math.max(start, end)),
  bulge: () => 0,
});

/** At a height above the ground straight below. */
export const followingGround = (profile: GroundProfile, height: number): CraftAltitude => ({
  at: (along) => groundOf(profile, along) + height,
  bulge: (stretch) => bulgeOf(profile, stretch),
});

const NOWHERE: SurfaceSearch = { nearest: undefined, unknown: true };

/** Looks at the ground from places along a path, and counts. */
class Lookout {
  readonly #grids: readonly HeightGrid[];
  readonly #path: LegPath;
  readonly #craft: CraftAltitude;
  #looks = 0;

  constructor(grids: readonly HeightGrid[], path: LegPath, craft: CraftAltitude) {
    this.#grids = grids;
    this.#path = path;
    this.#craft = craft;
  }

  get looks(): number {
    return this.#looks;
  }

  /** Whether so much has been done that others should get their turn. */
  get isTired(): boolean {
    return this.#looks % SEARCHES_IN_STEP === 0;
  }

  look(along: number, radius: number): Look {
    this.#looks += 1;
    const at = this.#path.at(along);
    const altitude = aboveSea(this.#craft.at(along));
    const search = Number.isNaN(altitude) ? NOWHERE : nearestSurface(this.#grids, at, altitude, metres(radius));
    return { along, at, altitude, search };
  }

  at(along: number): LonLat {
    return this.#path.at(along);
  }

  flown(from: Look, to: Look): number {
    return Math.hypot(to.along - from.along, to.altitude - from.altitude);
  }

  bulge(from: Look, to: Look): number {
    return this.#craft.bulge({ from: from.along, to: to.along });
  }

  /**
   * Whether everything between two looks is proven to be within a limit. The craft is nowhere above the straight line
   * between them raised by its bulge, and never nearer to the ground up there, so that line is judged.
   */
  isWithin(from: Look, to: Look, limit: number): boolean {
    const [one, other] = [from.search.nearest, to.search.nearest];
    if (one === undefined || other === undefined) return false;
    const room = limit + TOLERANCE - this.bulge(from, to);
    const worse = Math.max(one.distance, other.distance);
    if (!(worse <= room)) return false;
    if ((one.distance + other.distance + this.flown(from, to)) / 2 <= room) return true;
    if (Math.min(distanceTo(one, to), distanceTo(other, from)) <= room) return true;
    return worse + overhang(this.#grids, one, other) <= room;
  }
}

interface Span {
  readonly from: Look;
  readonly to: Look;
  /** Nothing between is farther from the ground than this, in metres. */
  readonly most: number;
}

/** The place farthest from the ground on stretches of which one look is known to be over the limit. */
function* worstOf(lookout: Lookout, known: Look, stretches: readonly Interval[], limit: number): Generator<void, Look> {
  const radius = FAR * limit;
  const until = lookout.looks + MOST_FOR_WORST;
  // Where ground without data could be nearer than what is known, nothing is said of how far it is.
  const far = ({ search }: Look): number => (search.unknown ? 0 : (search.nearest?.distance ?? radius));
  let worst = lookout.look(known.along, radius);
  const take = (look: Look): Look => {
    if (outdoes(far(look), far(worst))) worst = look;
    return look;
  };
  const spanOf = (from: Look, to: Look): Span => {
    const half = (far(from) + far(to) + lookout.flown(from, to)) / 2 + lookout.bulge(from, to);
    const isKnown = !from.search.unknown && !to.search.unknown && !Number.isNaN(half);
    return { from, to, most: isKnown ? Math.min(radius, half) : radius };
  };
  const open: Span[] = [];
  for (const { from, to } of stretches) {
    if (lookout.looks >= until) break;
    open.push(spanOf(take(lookout.look(from, radius)), take(lookout.look(to, radius))));
    yield;
  }
  while (lookout.looks < until) {
    open.sort((one, other) => other.most - one.most || one.from.along - other.from.along);
    const span = open.shift();
    if (span === undefined || span.most <= far(worst) + NEAR_WORST) break;
    const middle = take(lookout.look((span.from.along + span.to.along) / 2, radius));
    open.push(spanOf(span.from, middle), spanOf(middle, span.to));
    if (lookout.isTired) yield;
  }
  return worst;
}

/**
 * Whether a craft gets farther than a limit from the nearest ground on the given stretches of a path. Ground straight below
 * is never nearer than the nearest, so the stretches on which the height over ground is over the limit are all that need
 * asking; the craft is above ground there. Yields after every few searches, so that others get their turn.
 *
 * Certified, not sampled. A stretch is proven from its two ends, or cut in two. Flying a metre changes the distance by at
 * most a metre. A place of the ground that is within the limit from both ends is so from all between. And while the craft
 * flies straight from one end to the other, a point that runs straight from the nearest ground of the one to that of the
 * other is never farther from it than at the worse end; where that point is in the ground, the surface is nearer still,
 * and where it is above, the surface is farther by no more than that. So a leg along a slope is proven in a few steps
 * however near it is to the limit.
 */
export function* surfaceVerdictSteps(
  grids: readonly HeightGrid[],
  path: LegPath,
  craft: CraftAltitude,
  stretches: readonly Interval[],
  limit: Metres,
): Generator<void, SurfaceVerdict> {
  const lookout = new Lookout(grids, path, craft);
  const look = (along: number): Look => lookout.look(along, limit + 1);
  const isOver = ({ search }: Look): boolean =>
    !search.unknown && (search.nearest === undefined || exceeds(search.nearest.distance, limit));
  let doubt: SurfaceVerdict | undefined;
  /** What is left in doubt on a stretch that is too short to cut again. What is unknown weighs more, and the first stays. */
  const leave = (verdict: SurfaceVerdict): void => {
    if (doubt === undefined || (doubt.kind !== 'unknown' && verdict.kind === 'unknown')) doubt = verdict;
  };
  let over: Look | undefined;
  /** Stretches still to be proven; the next one is the last in the list. */
  const open: { readonly from: Look; readonly to: Look }[] = [];
  for (const { from, to } of stretches) {
    const first = look(from);
    const last = to > from ? look(to) : first;
    over = [first, last].find(isOver);
    open.push({ from: first, to: last });
    while (over === undefined) {
      const stretch = open.pop();
      if (stretch === undefined) break;
      const { from: start, to: end } = stretch;
      const length = end.along - start.along;
      if (length <= LONGEST * limit && lookout.isWithin(start, end, limit)) continue;
      const along = (start.along + end.along) / 2;
      const half = lookout.flown(start, end) / 2;
      const unknown = [start, end].find(({ search }) => search.unknown);
      if (unknown !== undefined && !(Math.max(half, length / 2) >= HOPELESS)) {
        leave({ kind: 'unknown', along: unknown.along, at: unknown.at });
        continue;
      }
      if (half < UNDECIDED) {
        leave({ kind: 'at-the-limit', along, at: lookout.at(along) });
        continue;
      }
      if (lookout.looks >= MOST_SEARCHES) return { kind: 'undecided', along, at: lookout.at(along) };
      const middle = look(along);
      if (isOver(middle)) over = middle;
      open.push({ from: middle, to: end }, { from: start, to: middle });
      if (lookout.isTired) yield;
    }
    if (over !== undefined) break;
    open.length = 0;
    yield;
  }
  if (over === undefined) return doubt ?? { kind: 'within' };
  const { along, at, search } = yield* worstOf(lookout, over, stretches, limit);
  return { kind: 'over', along, at, distance: search.nearest?.distance ?? metres(FAR * limit) };
}

/** `surfaceVerdictSteps` at once, for a craft that flies straight between two altitudes above mean sea level. */
export const surfaceVerdict = (
  grids: readonly HeightGrid[],
  path: LegPath,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  stretches: readonly Interval[],
  limit: Metres,
): SurfaceVerdict => {
  const craft = straightBetween(startAltitude, endAltitude, path.length);
  const steps = surfaceVerdictSteps(grids, path, craft, stretches, limit);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
};

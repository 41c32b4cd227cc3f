import { exceeds } from '../units/exceeds.ts';
import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { distance, type LegPath, legPath } from './geodesy.ts';
import { mergeProfiles } from './ground-profile.ts';
import type { HeightGrid } from './height-grid.ts';
import type { Interval } from './interval.ts';
import { type NearestSurface, nearestSurface, type SurfaceSearch } from './nearest-surface.ts';
import { heightOverGround } from './quadratic.ts';
import { groundAlong } from './terrain-walk.ts';

/** What is proven about a path and a greatest distance from the ground. */
export type SurfaceVerdict =
  | { readonly kind: 'within' }
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

/**
 * Whether a craft gets farther than a limit from the nearest ground on the given stretches of a path. Altitudes in metres
 * above mean sea level at both ends, linear between. Ground straight below is never nearer than the nearest, so the
 * stretches on which the height over ground is over the limit are all that need asking; the craft is above ground there.
 *
 * Certified, not sampled. A stretch is proven from its two ends, or cut in two. Flying a metre changes the distance by at
 * most a metre. A place of the ground that is within the limit from both ends is so from all between. And while the craft flies straight from one end to the other, a point that runs straight from the nearest
 * ground of the one to that of the other is never farther from it than at the worse end; where that point is in the ground,
 * the surface is nearer still, and where it is above, the surface is farther by no more than that. So a leg along a slope
 * is proven in a few steps however near it is to the limit.
 */
export const surfaceVerdict = (
  grids: readonly HeightGrid[],
  path: LegPath,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  stretches: readonly Interval[],
  limit: Metres,
): SurfaceVerdict => {
  const climb = path.length > 0 ? (endAltitude - startAltitude) / path.length : 0;
  const perMetre = Math.hypot(1, climb);
  // Straight up, the distance from everything below only grows: of a climb on the spot the upper end decides.
  const start = path.length > 0 ? startAltitude : Math.max(startAltitude, endAltitude);
  let doubt: SurfaceVerdict | undefined;
  let searches = 0;

  const look = (along: number): Look => {
    searches += 1;
    const at = path.at(along);
    const altitude = aboveSea(start + climb * along);
    return { along, at, altitude, search: nearestSurface(grids, at, altitude, metres(limit + 1)) };
  };
  const overAt = ({ along, at, altitude, search }: Look): SurfaceVerdict | undefined => {
    const { nearest, unknown } = search;
    if (unknown || (nearest !== undefined && !exceeds(nearest.distance, limit))) return undefined;
    const far = metres(FAR * limit);
    const wide = nearest ?? nearestSurface(grids, at, altitude, far).nearest;
    return { kind: 'over', along, at, distance: wide?.distance ?? far };
  };
  const isWithin = (from: Look, to: Look): boolean => {
    const [one, other] = [from.search.nearest, to.search.nearest];
    if (one === undefined || other === undefined) return false;
    const worse = Math.max(one.distance, other.distance);
    if (worse > limit + TOLERANCE) return false;
    const flown = (to.along - from.along) * perMetre;
    if ((one.distance + other.distance + flown) / 2 <= limit + TOLERANCE) return true;
    if (Math.min(distanceTo(one, to), distanceTo(other, from)) <= limit + TOLERANCE) return true;
    return worse + overhang(grids, one, other) <= limit + TOLERANCE;
  };
  /** What is left in doubt on a stretch that is too short to cut again. What is unknown weighs more, and the first stays. */
  const leave = (verdict: SurfaceVerdict): undefined => {
    if (doubt === undefined || (doubt.kind !== 'unknown' && verdict.kind === 'unknown')) doubt = verdict;
    return undefined;
  };
  const prove = (from: Look, to: Look): SurfaceVerdict | undefined => {
    if (to.along - from.along <= LONGEST * limit && isWithin(from, to)) return undefined;
    const along = (from.along + to.along) / 2;
    const half = ((to.along - from.along) / 2) * perMetre;
    const unknown = [from, to].find(({ search }) => search.unknown);
    if (unknown !== undefined && half < HOPELESS) {
      return leave({ kind: 'unknown', along: unknown.along, at: unknown.at });
    }
    if (half < UNDECIDED) return leave({ kind: 'at-the-limit', along, at: path.at(along) });
    if (searches >= MOST_SEARCHES) return { kind: 'undecided', along, at: path.at(along) };
    const middle = look(along);
    return overAt(middle) ?? prove(from, middle) ?? prove(middle, to);
  };
  for (const { from, to } of stretches) {
    const first = look(from);
    const last = to > from ? look(to) : first;
    const verdict = overAt(first) ?? overAt(last) ?? prove(first, last);
    if (verdict !== undefined) return verdict;
  }
  return doubt ?? { kind: 'within' };
};

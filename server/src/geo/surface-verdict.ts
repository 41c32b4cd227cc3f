import { exceeds } from '../units/exceeds.ts';
import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import type { LegPath } from './geodesy.ts';
import type { HeightGrid } from './height-grid.ts';
import type { Interval } from './interval.ts';
import { nearestSurface } from './nearest-surface.ts';

/** What is proven about a path and a greatest distance from the ground. */
export type SurfaceVerdict =
  | { readonly kind: 'within' }
  | { readonly kind: 'over'; readonly along: number; readonly at: LonLat; readonly distance: Metres }
  /** Within five centimetres of the limit, at the place named and nowhere over it by more. */
  | { readonly kind: 'at-the-limit'; readonly along: number; readonly at: LonLat }
  /** Ground without data could be nearer than what is known. */
  | { readonly kind: 'unknown'; readonly along: number; readonly at: LonLat };

/** Half a stretch of flight shorter than this changes the distance too little to matter: the limit is reached. */
const UNDECIDED = 0.05;
/** Half a stretch shorter than this with ground missing around it stays unknown. */
const HOPELESS = 1;
/** Searches after which the rest of a path that hugs the limit is left as at the limit. */
const MOST_SEARCHES = 20_000;
/** How far the ground is looked for once the limit is known to be broken, as a multiple of it. */
const FAR = 4;

/**
 * Whether a craft gets farther than a limit from the nearest ground on the given stretches of a path. Altitudes in metres
 * above mean sea level at both ends, linear between. Ground straight below is never nearer than the nearest, so the
 * stretches on which the height over ground is over the limit are all that need asking.
 *
 * Certified, not sampled: flying a metre changes the distance by at most a metre, so a stretch is proven by its middle or
 * cut in two. The place of `over` is the first that proves it.
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
  const altitudeAt = (along: number): MetresAboveSea => aboveSea(start + climb * along);
  let doubt: SurfaceVerdict | undefined;
  let searches = 0;

  const judge = (from: number, to: number): SurfaceVerdict | 'cut' | undefined => {
    const along = (from + to) / 2;
    const at = path.at(along);
    const half = ((to - from) / 2) * perMetre;
    if (half > limit / 2) return 'cut';
    searches += 1;
    const { nearest, unknown } = nearestSurface(grids, at, altitudeAt(along), metres(limit + 1));
    if (nearest !== undefined && nearest.distance + half <= limit) return undefined;
    const isOver = !unknown && (nearest === undefined || exceeds(nearest.distance, limit));
    if (isOver) {
      const far = metres(FAR * limit);
      const wide = nearest ?? nearestSurface(grids, at, altitudeAt(along), far).nearest;
      return { kind: 'over', along, at, distance: wide?.distance ?? far };
    }
    if (unknown && half < HOPELESS) return { kind: 'unknown', along, at };
    if (!unknown && (half < UNDECIDED || searches > MOST_SEARCHES)) return { kind: 'at-the-limit', along, at };
    return 'cut';
  };
  const prove = (from: number, to: number): SurfaceVerdict | undefined => {
    const verdict = judge(from, to);
    if (verdict === 'cut') {
      const middle = (from + to) / 2;
      return prove(from, middle) ?? prove(middle, to);
    }
    if (verdict?.kind === 'over') return verdict;
    // What is unknown weighs more than what is at the limit, and the first place stands.
    if (verdict !== undefined && (doubt === undefined || (doubt.kind !== 'unknown' && verdict.kind === 'unknown'))) {
      doubt = verdict;
    }
    return undefined;
  };
  for (const { from, to } of stretches) {
    const over = prove(from, to);
    if (over !== undefined) return over;
  }
  return doubt ?? { kind: 'within' };
};

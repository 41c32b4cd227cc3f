import { outdoes } from '../units/exceeds.ts';
import { aboveGround, aboveSea, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import { groundOf, pieceAt } from './ground-profile.ts';
import type { GroundProfile } from './height-grid.ts';
import type { Interval } from './interval.ts';
import type { HeightThere } from './quadratic.ts';

/**
 * Greatest height over the ground on stretches of a path, for an altitude that is linear along it. Undefined where no
 * stretch has ground data.
 */
export const greatestOn = (
  profile: GroundProfile,
  startAltitude: number,
  climbPerMetre: number,
  stretches: readonly Interval[],
): MetresAboveGround | undefined => greatestThereOn(profile, startAltitude, climbPerMetre, stretches)?.value;

/** As `greatestOn`, with the first place where it is reached. */
export const greatestThereOn = (
  profile: GroundProfile,
  startAltitude: number,
  climbPerMetre: number,
  stretches: readonly Interval[],
): HeightThere | undefined => {
  let greatest = Number.NEGATIVE_INFINITY;
  let there = 0;
  const look = (along: number): void => {
    const height = startAltitude + climbPerMetre * along - groundOf(profile, along);
    if (!outdoes(height, greatest)) return;
    greatest = height;
    there = along;
  };
  for (const { from, to } of stretches) {
    look(from);
    look(to);
    for (let piece = pieceAt(profile, from); piece < profile.pieces; piece++) {
      const start = profile.along[piece] ?? 0;
      if (start > to) break;
      if (start > from) look(start);
      const bend = profile.c[piece] ?? 0;
      if (bend === 0) continue;
      const turn = start + (climbPerMetre - (profile.b[piece] ?? 0)) / (2 * bend);
      if (turn > Math.max(from, start) && turn < Math.min(to, profile.along[piece + 1] ?? to)) look(turn);
    }
  }
  return greatest === Number.NEGATIVE_INFINITY ? undefined : { value: aboveGround(greatest), along: there };
};

/** Greatest ground on stretches of a path. Undefined where no stretch has ground data. */
export const greatestGroundOn = (
  profile: GroundProfile,
  stretches: readonly Interval[],
): MetresAboveSea | undefined => {
  let greatest = Number.NEGATIVE_INFINITY;
  const look = (along: number): void => {
    const ground = groundOf(profile, along);
    if (ground > greatest) greatest = ground;
  };
  for (const { from, to } of stretches) {
    look(from);
    look(to);
    for (let piece = pieceAt(profile, from); piece < profile.pieces; piece++) {
      const start = profile.along[piece] ?? 0;
      if (start > to) break;
      if (start > from) look(start);
      const bend = profile.c[piece] ?? 0;
      const turn = bend === 0 ? start : start - (profile.b[piece] ?? 0) / (2 * bend);
      if (turn > Math.max(from, start) && turn < Math.min(to, profile.along[piece + 1] ?? to)) look(turn);
    }
  }
  return greatest === Number.NEGATIVE_INFINITY ? undefined : aboveSea(greatest);
};

/**
 * How far the ground rises at most above the straight line between the ground at the two ends of a stretch, in metres, at
 * least 0; NaN where any of it has no data.
 */
export const bulgeOf = (profile: GroundProfile, { from, to }: Interval): number => {
  const start = groundOf(profile, from);
  const slope = to > from ? (groundOf(profile, to) - start) / (to - from) : 0;
  let most = 0;
  for (let piece = pieceAt(profile, from); piece < profile.pieces; piece++) {
    const begin = profile.along[piece] ?? 0;
    const end = profile.along[piece + 1] ?? begin;
    if (begin > to || (begin === to && piece > 0)) break;
    if (end <= from && end > begin) continue;
    const [a, b, c] = [profile.a[piece] ?? Number.NaN, profile.b[piece] ?? 0, profile.c[piece] ?? 0];
    if (Number.isNaN(a)) return Number.NaN;
    const rise = (along: number): number => {
      const t = along - begin;
      return a + (b + c * t) * t - start - slope * (along - from);
    };
    const [first, last] = [Math.max(from, begin), Math.min(to, end)];
    most = Math.max(most, rise(first), rise(last));
    const turn = c < 0 ? begin + (slope - b) / (2 * c) : first;
    if (turn > first && turn < last) most = Math.max(most, rise(turn));
  }
  return Number.isNaN(start + slope) ? Number.NaN : most;
};

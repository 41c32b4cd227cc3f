import type { GroundProfile } from './height-grid.ts';

/**
 * Heights that a ground profile passes, in their order: both ends of each piece and the summit or dip inside it. Between
 * two of them it only rises or only falls. A piece without data is NaN.
 */
export function* profileHeights(profile: GroundProfile): Iterable<number> {
  for (let piece = 0; piece < profile.pieces; piece++) {
    const a = profile.a[piece] ?? Number.NaN;
    const b = profile.b[piece] ?? 0;
    const c = profile.c[piece] ?? 0;
    const length = (profile.along[piece + 1] ?? 0) - (profile.along[piece] ?? 0);
    const turn = c === 0 ? Number.NaN : -b / (2 * c);
    yield a;
    if (turn > 0 && turn < length) yield a + (b + c * turn) * turn;
    yield a + (b + c * length) * length;
  }
}

/** Metres that a profile rises and falls in all. NaN where it has no data somewhere. */
export const upsAndDowns = (profile: GroundProfile): { readonly up: number; readonly down: number } => {
  let [up, down] = [0, 0];
  let last: number | undefined;
  for (const height of profileHeights(profile)) {
    if (Number.isNaN(height)) return { up: Number.NaN, down: Number.NaN };
    if (last !== undefined && height > last) up += height - last;
    if (last !== undefined && height < last) down += last - height;
    last = height;
  }
  return { up, down };
};

/** Lowest and highest height of a profile. NaN where it has no data somewhere. */
export const profileRange = (profile: GroundProfile): { readonly lowest: number; readonly highest: number } => {
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const height of profileHeights(profile)) {
    if (Number.isNaN(height)) return { lowest: Number.NaN, highest: Number.NaN };
    lowest = Math.min(lowest, height);
    highest = Math.max(highest, height);
  }
  return { lowest, highest };
};

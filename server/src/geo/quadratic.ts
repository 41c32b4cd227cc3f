import { outdoes } from '../units/exceeds.ts';
import { aboveGround, type Metres, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import type { GroundProfile } from './height-grid.ts';
import { type Interval, mergeIntervals } from './interval.ts';

/** A height above ground and where along the path it is reached, in metres from the start. */
export interface HeightThere {
  readonly value: MetresAboveGround;
  readonly along: number;
}

export interface HeightOverGround {
  /** Undefined where the profile has no data at all. */
  readonly least: HeightThere | undefined;
  readonly greatest: HeightThere | undefined;
  /** Stretches without ground data. */
  readonly gaps: readonly Interval[];
}

/** Height over ground on a piece: `start + slope t + bend t²` for 0 <= t <= length. */
interface Parabola {
  readonly start: number;
  readonly slope: number;
  readonly bend: number;
  readonly length: number;
}

const valueAt = (curve: Parabola, t: number): number => curve.start + (curve.slope + curve.bend * t) * t;

/** Where the curve turns inside its piece, if it does. */
const turnOf = (curve: Parabola): number | undefined => {
  if (curve.bend === 0) return undefined;
  const t = -curve.slope / (2 * curve.bend);
  return t > 0 && t < curve.length ? t : undefined;
};

/**
 * The craft's altitude is linear along the path, the ground quadratic on each piece: their difference on a piece.
 * Undefined without ground data.
 */
const heightOn = (
  profile: GroundProfile,
  piece: number,
  startAltitude: number,
  climbPerMetre: number,
): Parabola | undefined => {
  const a = profile.a[piece] ?? Number.NaN;
  if (Number.isNaN(a)) return undefined;
  const from = profile.along[piece] ?? 0;
  return {
    start: startAltitude + climbPerMetre * from - a,
    slope: climbPerMetre - (profile.b[piece] ?? 0),
    bend: -(profile.c[piece] ?? 0),
    length: (profile.along[piece + 1] ?? from) - from,
  };
};

const climbPerMetre = (start: number, end: number, length: number): number => (length > 0 ? (end - start) / length : 0);

/**
 * Least and greatest height of a craft over the ground along a path. Altitudes in metres above mean sea level at both
 * ends, linear in the distance between. A path without length is judged at both altitudes.
 */
export const heightOverGround = (
  profile: GroundProfile,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  length: Metres,
): HeightOverGround => {
  let least: HeightThere | undefined;
  let greatest: HeightThere | undefined;
  const gaps: Interval[] = [];
  const take = (value: number, along: number): void => {
    if (least === undefined || outdoes(least.value, value)) least = { value: aboveGround(value), along };
    if (greatest === undefined || outdoes(value, greatest.value)) greatest = { value: aboveGround(value), along };
  };
  const climb = climbPerMetre(startAltitude, endAltitude, length);
  for (let piece = 0; piece < profile.pieces; piece++) {
    const from = profile.along[piece] ?? 0;
    const to = profile.along[piece + 1] ?? from;
    const curve = heightOn(profile, piece, startAltitude, climb);
    if (curve === undefined) {
      gaps.push({ from, to });
      continue;
    }
    take(curve.start, from);
    take(valueAt(curve, curve.length), to);
    const turn = turnOf(curve);
    if (turn !== undefined) take(valueAt(curve, turn), from + turn);
    if (!(length > 0)) take(endAltitude - (profile.a[piece] ?? Number.NaN), 0);
  }
  return { least, greatest, gaps: mergeIntervals(gaps) };
};

/** Real roots of `value - limit` in ascending order; a double root counts once. */
const crossings = (curve: Parabola, limit: number): readonly number[] => {
  const c = curve.start - limit;
  const { slope: b, bend: a } = curve;
  if (a === 0) return b === 0 ? [] : [-c / b];
  const discriminant = b * b - 4 * a * c;
  if (discriminant < 0) return [];
  // The stable form: no difference of nearly equal numbers.
  const q = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant));
  if (q === 0) return [0];
  const one = q / a;
  const other = c / q;
  return one < other ? [one, other] : [other, one];
};

/** A stretch beyond a limit, and the height on it that is farthest beyond. */
export interface StretchBeyond extends Interval {
  readonly furthest: MetresAboveGround;
  /** Where that is, in metres from the start of the path. */
  readonly furthestAlong: number;
}

/** Stretches of a piece on which the curve is over (sign 1) or under (sign -1) the limit. */
const stretchesBeyond = (curve: Parabola, limit: number, sign: 1 | -1, from: number, to: number): StretchBeyond[] => {
  const knots = [0, ...crossings(curve, limit).filter((t) => t > 0 && t < curve.length), curve.length];
  const turn = turnOf(curve);
  const stretches: StretchBeyond[] = [];
  for (let i = 0; i + 1 < knots.length; i++) {
    const start = knots[i] ?? 0;
    const end = knots[i + 1] ?? start;
    if (!(sign * (valueAt(curve, (start + end) / 2) - limit) > 0)) continue;
    const places = turn !== undefined && turn > start && turn < end ? [start, turn, end] : [start, end];
    const furthest = places.reduce((one, other) =>
      outdoes(sign * valueAt(curve, other), sign * valueAt(curve, one)) ? other : one,
    );
    // The end of a piece is said exactly, so that the end of a path is within it.
    const until = end === curve.length ? to : from + end;
    stretches.push({
      from: from + start,
      to: until,
      furthest: aboveGround(valueAt(curve, furthest)),
      furthestAlong: furthest === curve.length ? to : from + furthest,
    });
  }
  return stretches;
};

/** Ends of neighbouring pieces closer than this are one place; the ground has no steps there, only rounding. */
const SAME_PLACE = 1e-6;

const joined = (stretches: readonly StretchBeyond[], sign: 1 | -1): readonly StretchBeyond[] => {
  const whole: StretchBeyond[] = [];
  for (const next of stretches) {
    const last = whole[whole.length - 1];
    if (last === undefined || next.from > last.to + SAME_PLACE) whole.push(next);
    else {
      const { furthest, furthestAlong } = outdoes(sign * next.furthest, sign * last.furthest) ? next : last;
      whole[whole.length - 1] = { from: last.from, to: next.to, furthest, furthestAlong };
    }
  }
  return whole;
};

const beyond = (
  profile: GroundProfile,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  length: Metres,
  limit: number,
  sign: 1 | -1,
): readonly StretchBeyond[] => {
  if (!(length > 0)) {
    const furthest = Math.max(sign * startAltitude, sign * endAltitude) - sign * (profile.a[0] ?? Number.NaN);
    return furthest > sign * limit
      ? [{ from: 0, to: 0, furthest: aboveGround(sign * furthest), furthestAlong: 0 }]
      : [];
  }
  const stretches: StretchBeyond[] = [];
  const climb = climbPerMetre(startAltitude, endAltitude, length);
  for (let piece = 0; piece < profile.pieces; piece++) {
    const curve = heightOn(profile, piece, startAltitude, climb);
    if (curve === undefined) continue;
    const from = profile.along[piece] ?? 0;
    stretches.push(...stretchesBeyond(curve, limit, sign, from, profile.along[piece + 1] ?? from));
  }
  return joined(stretches, sign);
};

/**
 * Where the height over ground is more than a limit, to the last bit; whether it is so by enough to count is for
 * `units/exceeds` to say of `furthest`. Stretches without ground data are not among them.
 */
export const intervalsOver = (
  profile: GroundProfile,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  length: Metres,
  limit: MetresAboveGround,
): readonly StretchBeyond[] => beyond(profile, startAltitude, endAltitude, length, limit, 1);

/** Where the height over ground is less than a limit. As `intervalsOver`. */
export const intervalsUnder = (
  profile: GroundProfile,
  startAltitude: MetresAboveSea,
  endAltitude: MetresAboveSea,
  length: Metres,
  limit: MetresAboveGround,
): readonly StretchBeyond[] => beyond(profile, startAltitude, endAltitude, length, limit, -1);

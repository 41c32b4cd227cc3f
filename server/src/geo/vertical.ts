import { exceeds } from '../units/exceeds.ts';
import { aboveGround, aboveSea, type Metres, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import { levelProfile } from './ground-profile.ts';
import type { GroundProfile } from './height-grid.ts';
import type { Interval } from './interval.ts';
import { intervalsOver, intervalsUnder, type StretchBeyond } from './quadratic.ts';

/** A craft along a path: in a straight line between two altitudes, or at a height above the ground below. */
export type CraftLine =
  | { readonly kind: 'straight'; readonly start: MetresAboveSea; readonly end: MetresAboveSea; readonly length: Metres }
  | { readonly kind: 'follows'; readonly height: number; readonly length: Metres };

const LEVEL = aboveGround(0);

/** Stretches by so much over the limit that it counts. */
const counted = (stretches: readonly StretchBeyond[], limit: MetresAboveGround): readonly Interval[] =>
  stretches.filter((stretch) => exceeds(stretch.furthest, limit)).map(({ from, to }) => ({ from, to }));

/** Where the craft is higher above the sea than an altitude. A craft that follows the ground needs its profile. */
export const overAltitude = (
  craft: CraftLine,
  altitude: MetresAboveSea,
  profile: () => GroundProfile,
): readonly Interval[] => {
  const { length } = craft;
  if (craft.kind === 'straight') {
    return counted(intervalsOver(levelProfile(length, altitude), craft.start, craft.end, length, LEVEL), LEVEL);
  }
  // Ground + height > altitude is the same as: a craft at (altitude - height) is under the ground.
  const level = aboveSea(altitude - craft.height);
  return intervalsUnder(profile(), level, level, length, LEVEL)
    .filter((stretch) => exceeds(LEVEL, stretch.furthest))
    .map(({ from, to }) => ({ from, to }));
};

/** Where the craft is higher above the ground than a height. */
export const overHeight = (
  craft: CraftLine,
  height: MetresAboveGround,
  profile: () => GroundProfile,
): readonly Interval[] => {
  const { length } = craft;
  if (craft.kind === 'straight') {
    return counted(intervalsOver(profile(), craft.start, craft.end, length, height), height);
  }
  return exceeds(aboveGround(craft.height), height) ? [{ from: 0, to: length }] : [];
};

import type { GroundProfile } from '../geo/height-grid.ts';
import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import { intervalsOver, intervalsUnder, type StretchBeyond } from '../geo/quadratic.ts';
import { TOUCH } from '../geo/ring.ts';
import { greatestThereOn } from '../geo/stretch-height.ts';
import type { Item, Leg } from '../plan/model.ts';
import { exceeds, fallsShortOf, outdoes } from '../units/exceeds.ts';
import { aboveGround, type Metres, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import { areaHeight } from './area-height.ts';
import type { FactTools } from './fact.ts';
import { itemAboveGround } from './item-height.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';

export type Side = 'over' | 'under';

/** Whether an item's own altitude is beyond the limit: the finding then stands on that altitude, not on the legs. */
export const isBeyondItself = (item: Item, limit: MetresAboveGround, side: Side, { ask }: FactTools): boolean => {
  if (item.kind === 'area') {
    const { least, greatest } = ask(areaHeight, item);
    return side === 'over' ? exceeds(greatest.value, limit) : fallsShortOf(least.value, limit);
  }
  if (item.altitude === undefined && !(item.kind === 'take-off' && item.climbTo !== undefined)) return false;
  const height = ask(itemAboveGround, item);
  return side === 'over' ? exceeds(height, limit) : !exceeds(height, limit);
};

/** Whether a stretch's furthest height is beyond the limit by enough to count. */
const reaches = (stretch: StretchBeyond, limit: MetresAboveGround, side: Side): boolean =>
  side === 'over' ? exceeds(stretch.furthest, limit) : !exceeds(stretch.furthest, limit);

/** What an allowance leaves of a stretch over a limit, with the greatest height on each part. */
const remainderOf = (
  stretch: StretchBeyond,
  allowed: readonly Interval[],
  profile: GroundProfile,
  start: MetresAboveSea,
  end: MetresAboveSea,
  length: Metres,
): readonly StretchBeyond[] => {
  if (commonIntervals([stretch], allowed).length === 0) return [stretch];
  const climb = length > 0 ? (end - start) / length : 0;
  return freeOf(allowed, stretch).flatMap((part): readonly StretchBeyond[] => {
    const greatest = greatestThereOn(profile, start, climb, [part]);
    return greatest === undefined || part.to - part.from <= TOUCH
      ? []
      : [{ ...part, furthest: greatest.value, furthestAlong: greatest.along }];
  });
};

/**
 * The stretches of a straight leg on which the craft is beyond a height limit and for which the leg itself is to blame.
 * A stretch that begins at an item whose own altitude is beyond the limit belongs to that item; what counts as beyond can
 * be said otherwise. "Under" includes the limit itself: a craft at 0 m above ground is on the ground. `allowed` are
 * stretches on which something lets the craft be over the limit.
 */
export const stretchesOfLeg = (
  leg: Leg,
  limit: MetresAboveGround,
  side: Side,
  tools: FactTools,
  isToBlame: (item: Item) => boolean = (item) => isBeyondItself(item, limit, side, tools),
  allowed: readonly Interval[] = [],
): readonly StretchBeyond[] => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return [];
  const path = tools.ask(pathOfLeg, leg);
  const profile = tools.ask(legGround, leg);
  const ends = [craft.start.aboveSea, craft.end.aboveSea, path.length] as const;
  const found =
    side === 'over'
      ? intervalsOver(profile, ...ends, limit)
      : intervalsUnder(profile, ...ends, aboveGround(limit + 0.001));
  const left = found.flatMap((stretch) => remainderOf(stretch, allowed, profile, ...ends));
  const own = left.filter((stretch) => reaches(stretch, limit, side));
  if (own.length === 0) return own;
  // A take-off without `climb-to` and a landing take over the height of the item beside them, and so its fault.
  const { from, to } = leg;
  const fromItself = isToBlame(from) || (from.kind === 'take-off' && from.climbTo === undefined && isToBlame(to));
  const toItself = isToBlame(to) || (to.kind === 'land' && isToBlame(from));
  return own.filter(
    (stretch) => !(fromItself && stretch.from <= 0.001) && !(toItself && stretch.to >= path.length - 0.001),
  );
};

/** The stretch that is furthest beyond. */
export const furthestOf = (stretches: readonly StretchBeyond[], side: Side): StretchBeyond | undefined => {
  const [first, ...more] = stretches;
  if (first === undefined) return undefined;
  return more.reduce(
    (one, other) =>
      (side === 'over' ? outdoes(other.furthest, one.furthest) : outdoes(one.furthest, other.furthest)) ? other : one,
    first,
  );
};

/** A leg beside an item that is beyond a limit by itself, and the stretch that it takes over there. */
export interface StretchBeside {
  readonly leg: Leg;
  readonly stretch: StretchBeyond;
}

/**
 * What an item that is beyond a limit itself takes over of the legs beside it, each stretch once: one between two such
 * items belongs to the first. `allowedOn` as for `stretchesOfLeg`.
 */
export const stretchesBeside = (
  item: Item,
  limit: MetresAboveGround,
  side: Side,
  tools: FactTools,
  isToBlame: (item: Item) => boolean,
  allowedOn: (leg: Leg) => readonly Interval[] = () => [],
): readonly StretchBeside[] => {
  const { arriving, leaving } = routePlaceOf(item, tools);
  return [arriving, leaving].flatMap((leg): readonly StretchBeside[] => {
    if (leg === undefined || tools.ask(legAltitudes, leg).kind === 'follows') return [];
    const { length } = tools.ask(pathOfLeg, leg);
    const sharesStart = leg.from.kind === 'take-off' && leg.from.climbTo === undefined;
    const byStart = leg.from === item || (sharesStart && leg.to === item);
    const byEnd = leg.to === item || (leg.to.kind === 'land' && leg.from === item);
    const isOther = leg.to === item && !sharesStart && isToBlame(leg.from);
    return stretchesOfLeg(leg, limit, side, tools, () => false, allowedOn(leg))
      .filter(
        ({ from, to }) => (byStart && from <= 0.001) || (byEnd && to >= length - 0.001 && !(isOther && from <= 0.001)),
      )
      .map((stretch) => ({ leg, stretch }));
  });
};

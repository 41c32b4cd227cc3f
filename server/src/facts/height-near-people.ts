import type { GroundProfile } from '../geo/height-grid.ts';
import { commonIntervals, type Interval } from '../geo/interval.ts';
import { intervalsNear } from '../geo/near-shape.ts';
import type { Shape } from '../geo/shape.ts';
import { greatestOn } from '../geo/stretch-height.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround, type Metres, type MetresAboveGround, overGround } from '../units/frames.ts';
import { areaHeight } from './area-height.ts';
import { type FactTools, given, NotAssessed } from './fact.ts';
import { groundOfItem, itemHeight } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import type { PeopleWay } from './people-passes.ts';

/** One leg, hand-flown area or place: what its height is asked of. */
export type Course = Pick<PeopleWay, 'subject' | 'item' | 'leg'>;

const requireGround = (profile: GroundProfile, stretches: readonly Interval[], subject: string): GroundProfile => {
  for (let i = 0; i < profile.pieces; i++) {
    if (!Number.isNaN(profile.a[i])) continue;
    const gap = { from: profile.along[i] ?? 0, to: profile.along[i + 1] ?? 0 };
    if (commonIntervals([gap], stretches).some(({ from, to }) => to > from)) {
      throw new NotAssessed(`the terrain has no data under a part of ${subject}`);
    }
  }
  return profile;
};

/** Greatest height above ground on stretches of a leg; on the whole of it where none are given; of an area, its greatest. */
export const greatestHeight = (
  { subject, item, leg }: Course,
  tools: FactTools,
  stretches?: readonly Interval[],
): MetresAboveGround => {
  if (leg === undefined) {
    if (item.kind === 'area') return tools.ask(areaHeight, item).greatest.value;
    const { aboveGround: written, aboveSea } = tools.ask(itemHeight, item).arriving;
    return written ?? overGround(aboveSea, groundOfItem(item, tools.ask(itemPlace, item), tools));
  }
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return aboveGround(craft.height + craft.within);
  const { length } = tools.ask(pathOfLeg, leg);
  const whole = stretches ?? [{ from: 0, to: length }];
  const profile = requireGround(tools.ask(legGround, leg), whole, subject);
  const { start, end } = craft;
  // A leg without length is a climb on the spot: its upper end counts.
  const from = length > 0 ? start.aboveSea : Math.max(start.aboveSea, end.aboveSea);
  const climb = length > 0 ? (end.aboveSea - start.aboveSea) / length : 0;
  return given(greatestOn(profile, from, climb, whole), `the ground under ${subject}`);
};

/** The reach that a height has, and the height itself, where both count. */
export interface ReachThere {
  readonly height: MetresAboveGround;
  readonly reach: Metres;
}

/** Reaches that differ by less than this, in metres, are one. */
const SETTLED = 0.01;
const MOST_ROUNDS = 20;

/**
 * The reach that a course has where it is near a shape, if the reach grows with the height flown. It begins with the
 * greatest height of all, keeps the stretches within that reach, asks for the greatest height on those, and so on: every
 * round holds all places that can matter, and the last one is the greatest height that reaches the shape from where it is
 * flown. Undefined where none does.
 */
export const reachNear = (
  course: Course,
  shape: Shape,
  distance: Metres,
  reachOf: (height: MetresAboveGround) => Metres,
  tools: FactTools,
): ReachThere | undefined => {
  let height = greatestHeight(course, tools);
  let reach = reachOf(height);
  if (course.leg === undefined) return exceeds(distance, reach) ? undefined : { height, reach };
  const path = tools.ask(pathOfLeg, course.leg);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const stretches = intervalsNear(shape, path, reach);
    if (stretches.length === 0) return undefined;
    height = greatestHeight(course, tools, stretches);
    const next = reachOf(height);
    if (reach - next < SETTLED) break;
    reach = next;
  }
  return { height, reach };
};

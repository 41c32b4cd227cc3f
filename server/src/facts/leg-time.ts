import { upsAndDowns } from '../geo/profile-heights.ts';
import type { Leg } from '../plan/model.ts';
import { type Seconds, seconds } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flownSpeed } from './flown-speed.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { type VerticalTime, verticalTime, verticalTimeOf } from './vertical-time.ts';

/** From the shortest that something can take to the longest; `longest` is infinite where nothing bounds it. */
export interface Lasting {
  readonly shortest: Seconds;
  readonly longest: Seconds;
}

export interface LegTime extends Lasting, VerticalTime {
  /** Time by the speeds over the ground alone, as if the leg were level. */
  readonly level: Lasting;
}

/** Shorter than this is no way over the ground: a climb or descent at one place. */
const SAME_PLACE = 0.001;

const vertical = (leg: Leg, tools: FactTools): VerticalTime => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'straight') return verticalTime(craft.start.aboveSea, craft.end.aboveSea, tools);
  const { up, down } = upsAndDowns(tools.ask(legGround, leg));
  if (Number.isNaN(up)) {
    throw new NotAssessed(
      `the terrain has no data along a part of the leg to ${leg.to.id.value}, which follows the terrain`,
    );
  }
  return verticalTimeOf(up, down, tools);
};

/** Time over the ground in the fastest and in the slowest wind. */
const levelTime = (leg: Leg, tools: FactTools): Lasting => {
  const { length } = tools.ask(pathOfLeg, leg);
  if (length < SAME_PLACE) return { shortest: seconds(0), longest: seconds(0) };
  const speed = tools.ask(flownSpeed, leg);
  if (speed.kind === 'cannot-hold') {
    throw new NotAssessed(
      `the ${speed.in} of ${sayNumber(speed.strength)} m/s does not let the aircraft hold the leg to ${leg.to.id.value}`,
    );
  }
  return { shortest: seconds(length / speed.fastest), longest: seconds(length / speed.slowest) };
};

/**
 * Time that a leg takes: the distance at the speed over the ground, in every wind of the window, and at least as long as
 * its climb or descent takes at the aircraft's rates. A leg is a straight line, so a craft that cannot climb as fast as
 * its speed asks for flies slower. Terrain following climbs and descends with every rise and dip of the ground.
 */
export const legTime = defineFact({
  name: 'leg-time',
  derive: (leg: Leg, tools: FactTools): LegTime => {
    const level = levelTime(leg, tools);
    const { climbing, descending } = vertical(leg, tools);
    return {
      level,
      climbing,
      descending,
      shortest: seconds(Math.max(level.shortest, climbing + descending)),
      longest: seconds(Math.max(level.longest, climbing + descending)),
    };
  },
});

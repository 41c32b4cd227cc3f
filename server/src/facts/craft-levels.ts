import { groundOf } from '../geo/ground-profile.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import type { Interval } from '../geo/interval.ts';
import { greatestGroundOn, greatestOn } from '../geo/stretch-height.ts';
import type { Leg } from '../plan/model.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { settled } from './settled-height.ts';

/** How low and how high a craft is on stretches of its path, in metres above mean sea level. */
export interface CraftLevels {
  /** Altitudes at the two ends of a stretch with the craft nowhere below the straight line between them. */
  lowestLine(stretch: Interval): readonly [from: number, to: number];
  least(stretch: Interval): number;
  greatest(stretch: Interval): number;
}

/** A craft in a straight line between two altitudes. A path without length is a climb: both altitudes are on it. */
export const straightLevels = (start: number, end: number, length: number): CraftLevels => {
  const lowest = Math.min(start, end);
  const at = (along: number): number => (length > 0 ? start + ((end - start) * along) / length : lowest);
  return {
    lowestLine: ({ from, to }) => [at(from), at(to)],
    least: ({ from, to }) => Math.min(at(from), at(to)),
    greatest: ({ from, to }) => (length > 0 ? Math.max(at(from), at(to)) : Math.max(start, end)),
  };
};

/** A craft at heights above the ground below it, between a lowest and a highest. `what` names the ground for a gap. */
export const followingLevels = (profile: GroundProfile, lowest: number, highest: number, what: string): CraftLevels => {
  if (profile.a.some(Number.isNaN)) throw new NotAssessed(`the terrain has no data along a part of ${what}`);
  const leastGround = (stretch: Interval): number => -(greatestOn(profile, 0, 0, [stretch]) ?? Number.NaN);
  return {
    lowestLine: ({ from, to }) => {
      const [start, end] = [groundOf(profile, from), groundOf(profile, to)];
      const slope = to > from ? (end - start) / (to - from) : 0;
      // How far the ground sags below the line between the two ends.
      const sag = greatestOn(profile, start - slope * from, slope, [{ from, to }]) ?? 0;
      return [start + lowest - Math.max(0, sag), end + lowest - Math.max(0, sag)];
    },
    least: (stretch) => leastGround(stretch) + lowest,
    greatest: (stretch) => (greatestGroundOn(profile, [stretch]) ?? Number.NaN) + highest,
  };
};

/** How low and how high the craft is along a leg. */
export const legLevels = defineFact({
  name: 'leg-levels',
  derive: (leg: Leg, tools: FactTools): CraftLevels => {
    const craft = tools.ask(legAltitudes, leg);
    if (craft.kind === 'straight') {
      const [start, end] = [craft.start, craft.end].map(({ aboveSea, written }) =>
        settled(aboveSea, written, leg.flight.first, tools),
      );
      return straightLevels(start ?? Number.NaN, end ?? Number.NaN, tools.ask(pathOfLeg, leg).length);
    }
    const name = `the leg to ${leg.to.id.value}, which follows it`;
    const { height, within } = craft;
    return followingLevels(tools.ask(legGround, leg), height - within, height + within, name);
  },
});

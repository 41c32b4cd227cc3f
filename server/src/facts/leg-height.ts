import { groundOf } from '../geo/ground-profile.ts';
import { freeOf, type Interval, totalLength } from '../geo/interval.ts';
import { type HeightThere, heightOverGround } from '../geo/quadratic.ts';
import { greatestThereOn } from '../geo/stretch-height.ts';
import type { Leg } from '../plan/model.ts';
import {
  aboveGround,
  aboveSea,
  type LonLat,
  type Metres,
  type MetresAboveGround,
  type MetresAboveSea,
  metres,
} from '../units/frames.ts';
import { sayDistance } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import type { Partly } from './lacking.ts';
import { altitudeAlong, type CraftAlong, legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';

export interface HeightPlace extends HeightThere {
  readonly at: LonLat;
  /** Altitude of the craft there; undefined where a terrain-following leg has no ground data. */
  readonly aboveSea: MetresAboveSea | undefined;
}

export interface LegHeight extends Partly {
  readonly least: HeightPlace;
  readonly greatest: HeightPlace;
  /** Stated vertical error of the ground. */
  readonly error: Metres;
}

/** The height written at an end of a leg, where the end is what counts. */
const asWritten = (there: HeightThere, craft: CraftAlong, length: number): MetresAboveGround => {
  if (craft.kind !== 'straight') return there.value;
  if (there.along <= 0 && craft.start.aboveGround !== undefined && length > 0) return craft.start.aboveGround;
  if (there.along >= length && craft.end.aboveGround !== undefined && length > 0) return craft.end.aboveGround;
  return there.value;
};

const nameOf = (leg: Leg): string => `leg ${leg.from.id.value} to ${leg.to.id.value}`;

const straight = (leg: Leg, craft: CraftAlong & { kind: 'straight' }, tools: FactTools): LegHeight => {
  const path = tools.ask(pathOfLeg, leg);
  const start = craft.start.aboveSea;
  const end = craft.end.aboveSea;
  const { least, greatest, gaps } = heightOverGround(tools.ask(legGround, leg), start, end, path.length);
  if (least === undefined || greatest === undefined) {
    throw new NotAssessed(`the terrain has no data along ${nameOf(leg)}`);
  }
  const placed = (there: HeightThere): HeightPlace => ({
    value: asWritten(there, craft, path.length),
    along: there.along,
    at: path.at(there.along),
    aboveSea: altitudeAlong(start, end, path.length, there.along),
  });
  const [gap] = gaps;
  const lacking =
    gap === undefined
      ? []
      : [
          {
            missing: `the terrain has no data over ${sayDistance(totalLength(gaps))} of ${nameOf(leg)}, from ${sayDistance(gap.from)} on`,
          },
        ];
  return { least: placed(least), greatest: placed(greatest), error: present(tools.world.terrain).error, lacking };
};

/** Terrain following holds its height wherever there is terrain; how well is what the plan says. */
const following = (leg: Leg, craft: CraftAlong & { kind: 'follows' }, tools: FactTools): LegHeight => {
  const path = tools.ask(pathOfLeg, leg);
  const { terrain } = tools.world;
  const ground = isMissing(terrain) ? Number.NaN : groundOf(tools.ask(legGround, leg), 0);
  const placed = (value: number): HeightPlace => ({
    value: aboveGround(value),
    along: 0,
    at: path.from,
    aboveSea: Number.isNaN(ground) ? undefined : aboveSea(ground + value),
  });
  return {
    least: placed(craft.height - craft.within),
    greatest: placed(craft.height + craft.within),
    error: isMissing(terrain) ? metres(0) : terrain.error,
    lacking: [],
  };
};

/**
 * Least and greatest height of the craft above the ground along a leg, in closed form over the whole of it, not only at
 * its ends. Where the terrain has holes the answer is for the rest and says so.
 */
export const legHeight = defineFact({
  name: 'leg-height',
  derive: (leg: Leg, tools: FactTools): LegHeight => {
    const craft = tools.ask(legAltitudes, leg);
    return craft.kind === 'straight' ? straight(leg, craft, tools) : following(leg, craft, tools);
  },
});

/**
 * Greatest height of a straight leg outside of some stretches, by the ground that is known; undefined where nothing is left
 * of it, and of a leg that follows the terrain.
 */
export const greatestOutside = (
  leg: Leg,
  stretches: readonly Interval[],
  tools: FactTools,
): HeightPlace | undefined => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return undefined;
  if (stretches.length === 0) return tools.ask(legHeight, leg).greatest;
  const path = tools.ask(pathOfLeg, leg);
  const [start, end] = [craft.start.aboveSea, craft.end.aboveSea];
  const left = freeOf(stretches, { from: 0, to: path.length });
  const climb = path.length > 0 ? (end - start) / path.length : 0;
  const there = greatestThereOn(tools.ask(legGround, leg), start, climb, left);
  if (there === undefined) return undefined;
  return {
    value: asWritten(there, craft, path.length),
    along: there.along,
    at: path.at(there.along),
    aboveSea: altitudeAlong(start, end, path.length, there.along),
  };
};

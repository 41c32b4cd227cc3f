import { boxAround } from '../geo/box.ts';
import type { Plan } from '../plan/model.ts';
import {
  type LonLat,
  type Metres,
  type MetresAboveEllipsoid,
  type MetresAboveSea,
  overGeoid,
} from '../units/frames.ts';
import { sayPosition } from '../units/say.ts';
import type { Geoid } from '../world/geoid.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import { planPositions } from './plan-positions.ts';

/** The geoid of the plan, or `NotAssessed`. `what` is the height that needs it: "the height of ridge". */
const geoidFor = (what: string, { world }: FactTools): Geoid => {
  if (world.geoid === undefined) {
    throw new NotAssessed(`${what} is above the ellipsoid, and bringing it to mean sea level needs a geoid grid`);
  }
  return present(world.geoid);
};

/** A height above the ellipsoid at a place, above mean sea level. `NotAssessed` without a geoid there. */
export const fromEllipsoid = (
  height: MetresAboveEllipsoid,
  at: LonLat,
  what: string,
  tools: FactTools,
): MetresAboveSea => {
  const undulation = geoidFor(what, tools).undulationAt(at);
  if (undulation === undefined) {
    throw new NotAssessed(`${what} is above the ellipsoid, and the geoid grid has no value at ${sayPosition(at)}`);
  }
  return overGeoid(height, undulation);
};

/** Least and greatest height of mean sea level above the ellipsoid over the box around the plan's places. */
export const geoidOverPlan = defineFact({
  name: 'geoid-over-plan',
  derive: (plan: Plan, tools: FactTools): { readonly least: Metres; readonly greatest: Metres } => {
    const geoid = geoidFor('a height', tools);
    const box = boxAround(tools.ask(planPositions, plan).positions.map(({ at }) => at.value));
    const range = box === undefined ? undefined : geoid.rangeIn(box);
    if (range === undefined) throw new NotAssessed("the geoid grid has no value in a part of the plan's area");
    return range;
  },
});

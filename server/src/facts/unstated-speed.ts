import type { Leg } from '../plan/model.ts';
import type { MetresPerSecond } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { groundSpeedInWinds } from './ground-speed.ts';
import { orLacking } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';

/** The cruise speed has to leave so much of itself over the ground; below that a pilot flies faster. Common practice, no source. */
const SHARE_OF_CRUISE = 0.5;

/**
 * Speed through the air on a leg for which the plan gives none: the aircraft's `cruise-speed`, or its `max-speed` where the
 * worst wind of the window takes more than half of the cruise speed off.
 */
export const unstatedSpeed = defineFact({
  name: 'unstated-speed',
  derive: (leg: Leg, tools: FactTools): MetresPerSecond => {
    const lead = `the plan gives no speed for the leg to ${leg.to.id.value}, and`;
    const aircraft = orLacking(() => aircraftOfPlan(tools));
    if (isMissing(aircraft)) throw new NotAssessed(`${lead} ${aircraft.missing}`, aircraft.due);
    const { cruiseSpeed, maxSpeed } = aircraft.known;
    if (cruiseSpeed === undefined) {
      throw new NotAssessed(`${lead} the aircraft file has no cruise-speed that could be read`);
    }
    const cruise = cruiseSpeed.value;
    const { length, course } = tools.ask(pathOfLeg, leg);
    if (length === 0 || maxSpeed === undefined || maxSpeed.value <= cruise) return cruise;
    const flown = groundSpeedInWinds(course, cruise, tools);
    const holds = flown.kind !== 'cannot-hold' && flown.slowest >= cruise * SHARE_OF_CRUISE;
    return holds ? cruise : maxSpeed.value;
  },
});

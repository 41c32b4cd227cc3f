import type { Leg } from '../plan/model.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { type GroundSpeed, groundSpeed, groundSpeedInWinds } from './ground-speed.ts';
import { orLacking } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';

/**
 * Speed over the ground at which a leg is flown: as the plan has it, else the aircraft's `cruise-speed` through the air in
 * every wind that is stated for the window.
 */
export const flownSpeed = defineFact({
  name: 'flown-speed',
  derive: (leg: Leg, tools: FactTools): GroundSpeed => {
    const stated = tools.ask(groundSpeed, leg);
    if (stated !== undefined) return stated;
    const aircraft = orLacking(() => aircraftOfPlan(tools));
    if ('missing' in aircraft) {
      throw new NotAssessed(
        `the plan gives no speed for the leg to ${leg.to.id.value}, and ${aircraft.missing}`,
        aircraft.due,
      );
    }
    const cruise = aircraft.known.cruiseSpeed;
    if (cruise === undefined) {
      throw new NotAssessed(
        `the plan gives no speed for the leg to ${leg.to.id.value}, and the aircraft file has no cruise-speed that could be read`,
      );
    }
    return groundSpeedInWinds(tools.ask(pathOfLeg, leg).course, cruise.value, tools);
  },
});

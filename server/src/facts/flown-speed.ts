import type { Leg } from '../plan/model.ts';
import { defineFact, type FactTools } from './fact.ts';
import { type GroundSpeed, groundSpeed, groundSpeedInWinds } from './ground-speed.ts';
import { pathOfLeg } from './leg-path.ts';
import { unstatedSpeed } from './unstated-speed.ts';

/**
 * Speed over the ground at which a leg is flown: as the plan has it, else that of the aircraft file through the air in
 * every wind that is stated for the window.
 */
export const flownSpeed = defineFact({
  name: 'flown-speed',
  derive: (leg: Leg, tools: FactTools): GroundSpeed => {
    const stated = tools.ask(groundSpeed, leg);
    if (stated !== undefined) return stated;
    return groundSpeedInWinds(tools.ask(pathOfLeg, leg).course, tools.ask(unstatedSpeed, leg), tools);
  },
});

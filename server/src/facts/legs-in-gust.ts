import type { Leg, Plan } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { legAirSpeed } from './air-speed.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flownLegs } from './flown-legs.ts';
import { orLacking } from './lacking.ts';

/** How many legs only a gust makes faster through the air than the aircraft flies: of more than one, the gust is to blame. */
export const legsTooFastInGust = defineFact({
  name: 'legs-too-fast-in-gust',
  derive: (plan: Plan, tools: FactTools): number => {
    const aircraft = orLacking(() => aircraftOfPlan(tools));
    const most = 'known' in aircraft ? aircraft.known.maxSpeed?.value : undefined;
    if (most === undefined) return 0;
    const onlyInGust = (leg: Leg): boolean => {
      if (leg.to.leg?.speed === undefined) return false;
      const speed = orLacking(() => tools.ask(legAirSpeed, leg));
      return 'known' in speed && exceeds(speed.known.most, most) && !exceeds(speed.known.mostSteady, most);
    };
    return plan.flights.flatMap((flight) => tools.ask(flownLegs, flight)).filter(onlyInGust).length;
  },
});

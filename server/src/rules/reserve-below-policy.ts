import { requireWhole } from '../facts/lacking.ts';
import { reservePolicy } from '../facts/reserve-policy.ts';
import { legByLeg } from '../rulebook/leg-by-leg.ts';
import { judgeReserve, leastAtLanding } from '../rulebook/reserve-left.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'flight',
  title: 'a flight lands with less energy than its reserve',
  question: 'Will it come home?',
  level: 'caution',
  basis: 'practice',
  why: 'A reserve is for what no plan knows: a second approach, a stronger wind, people on the landing place, a cell that gives way. Who plans it away has none.',
  condition:
    'At the planned landing, and at the nearest landing place after turning back anywhere, at least the `reserve` of the plan or of the aircraft file is left of the usable energy; the greater of the two counts. Where nobody states a reserve, that is a gap.',
  mend: 'Make the flight shorter, land for another battery in the middle, or wait for less wind.',
  sources: [{ cite: '20 to 30 % at the landing', edition: '2026', trust: 'common practice, no source' }],
  needs: ['aircraft', 'weather', 'terrain'],
  example: {
    faulty: 'reserve: 95 %\n',
    sound: 'reserve: 30 %\n',
  },

  *check(flight, tools) {
    const reserve = tools.ask(reservePolicy, tools.plan);
    yield* legByLeg(flight, tools);
    const landing = leastAtLanding(flight, tools);
    if (reserve === undefined || landing === undefined) return;
    yield judgeReserve(flight, reserve, landing, tools);
    requireWhole(landing);
  },
});

import { requireWhole } from '../facts/lacking.ts';
import { legByLeg } from '../rulebook/leg-by-leg.ts';
import { judgeReserve, leastAtLanding } from '../rulebook/reserve-left.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'flight',
  title: 'a flight lands with less energy than the house allows',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'practice',
  why: 'A house that has set a reserve has seen what a battery does on a cold day with the wind on the nose. It holds for every flight, whatever the plan or the aircraft file say.',
  condition:
    'Where the settings have `reserve`, at least so much of the usable energy is left at the planned landing, and at the nearest landing place after turning back anywhere.',
  mend: 'Make the flight shorter, land for another battery in the middle, or wait for less wind.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['aircraft', 'weather', 'terrain'],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { reserve: { is: 95 %, because: our insurance asks for it } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { reserve: { is: 30 %, because: our insurance asks for it } }\n',
  },

  *check(flight, tools) {
    const house = tools.settings.limits.reserve;
    if (house === undefined) return;
    yield* legByLeg(flight, tools);
    const landing = leastAtLanding(flight, tools);
    if (landing === undefined) return;
    const reserve = {
      value: house.value.value,
      setBy: 'the house (waywarden.settings.yaml)',
      at: house.span,
    };
    yield judgeReserve(flight, reserve, landing, tools);
    requireWhole(landing);
  },
});

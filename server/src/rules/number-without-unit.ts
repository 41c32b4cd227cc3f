import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayChoices } from '../units/say.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'number-without-unit',
  title: 'a number has no unit',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Sixty metres and sixty feet look the same without their unit, and so do knots and metres per second. Read in the wrong unit, a height is more than three times too high or too low. A value whose unit is guessed is worth nothing, so nothing that depends on it was checked.',
  condition:
    'Every length, speed, time, mass, temperature and direction is written as a number and a unit, such as 60 m, 200 ft, 8 m/s, 16 kt, 25 min or 1.2 kg; a height also has its datum, such as 60 m AGL.',
  mend: 'Write the unit after the number. Each unit that makes sense here is offered; take the one you mean.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60
    leg: { speed: 8 m/s over ground }
  - land: home
`,
    sound: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
  },

  *check(slip) {
    const write =
      slip.couldBe.length === 0
        ? `write each number with its unit, such as ${sayChoices(slip.units)}`
        : `write ${sayChoices(slip.couldBe)}`;
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, a number without a unit; ${write}`;
    yield complaint(slip, message, rewrites(slip, 'changes-flight', slip.couldBe));
  },
});

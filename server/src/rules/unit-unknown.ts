import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayChoices } from '../units/say.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'unit-unknown',
  title: 'a unit is not known here',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A number in the wrong kind of unit, such as a length in kilograms, is a slip of the hand or a value in the wrong line. What was meant cannot be told, so nothing that depends on it was checked.',
  condition:
    'Lengths take m, km, ft, mi (statute miles) or NM; heights m or ft; speeds m/s, km/h, kt or mph; times s, min, h or d; masses kg, g, lb or oz; temperatures C or F; directions deg.',
  mend: 'Write the value in one of the units of its kind.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 3 m, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
  },

  *check(slip) {
    const write = `write ${sayChoices(slip.couldBe.length === 0 ? slip.units : slip.couldBe)}`;
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, and ${sayWritten(slip.unit)} is no unit of ${slip.dimension} that is read here; ${write}`;
    yield complaint(slip, message, rewrites(slip, 'changes-flight', slip.couldBe));
  },
});

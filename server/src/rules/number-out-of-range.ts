import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'number-out-of-range',
  title: 'a number lies outside what it can be',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A direction of 400 degrees or a mass below nought does not exist. Such a number is a slip of the hand, and every result that used it would be nonsense, so nothing that depends on it was checked.',
  condition:
    'The value lies within the range that its message names. The ranges are wide: no flight of a small unmanned aircraft comes near them.',
  mend: 'Write the value that was meant; often a digit or the unit slipped.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'weather: { wind: { from: 400 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
    sound: 'weather: { wind: { from: 40 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
  },

  *check(slip) {
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}; plan format 1 takes values ${slip.expected}`;
    yield complaint(slip, message);
  },
});

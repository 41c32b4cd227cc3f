import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayChoices } from '../units/say.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'number-unreadable',
  title: 'a number is not written as one',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A comma is the decimal mark in half of the world and parts the thousands in the other half: 1,420 ft is 1420 ft to one reader and 1.42 ft to another. Other forms change silently when a machine reads them. Only one form is read, so that everyone reads the same number.',
  condition:
    'A number is digits, with a decimal point where it has decimals and a sign where it has one: 1420 or 1.5. It has no comma, no blank, no exponent and no leading nought.',
  mend: 'Write the number in this form. Where two numbers could be meant, both are offered.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 03 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
  },

  *check(slip) {
    const { mended, alternatives = [] } = slip;
    const couldBe = mended === undefined ? alternatives : [mended, ...alternatives];
    const write = couldBe.length === 0 ? slip.expected : sayChoices(couldBe);
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, which is not written as a number with its unit; write ${write}`;
    // A choice between two numbers is the pilot's; a single reading only changes its spelling.
    yield complaint(slip, message, rewrites(slip, couldBe.length > 1 ? 'changes-flight' : 'same-flight', couldBe));
  },
});

import type { SlipOf } from '../plan/slip.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayChoices } from '../units/say.ts';

const fault = ({ found, datums, couldBe }: SlipOf<'altitude-without-datum'>): string => {
  const write = `write ${sayChoices(couldBe.length === 0 ? datums : couldBe)}`;
  if (found === undefined) return `without the datum from which it counts; ${write}`;
  if (datums.length === 1) return `but here a height counts from one datum only; ${write}`;
  return `and ${sayWritten(found)} is no datum from which a height counts; ${write}`;
};

export default defineSlipRule({
  visits: 'slip',
  slip: 'altitude-without-datum',
  title: 'a height does not say from where it counts',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A height above ground, above the sea and above the take-off place can lie hundreds of metres apart at the same number. Over a ridge, 60 m above take-off may be below the ground. The datum is never assumed, so no height rule was checked here.',
  condition:
    'Every height ends in its datum: AGL (above the ground at that place), AMSL (above mean sea level), above take-off, or above ellipsoid.',
  mend: 'Write the datum after the unit. Many control stations show the height above take-off, whatever the ground does below; then write above take-off and not AGL.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m
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
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, ${fault(slip)}`;
    yield complaint(slip, message, rewrites(slip, 'changes-flight', slip.couldBe));
  },
});

import { statedOnDay } from '../facts/preflight.ts';
import { EU_REGISTRATION_MASS } from '../facts/registration-duty.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isMissing } from '../world/world.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that the pilot is old enough',
  question: 'What papers?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'The Union lets pilots fly by themselves from a certain age, and each State may set a lower one on its ground. A plan holds no ages: it is enough that somebody looked.',
  condition:
    'Somebody states that the pilot has the minimum age of the State: 16 years, unless the State has lowered it by up to four, or flies under the direct supervision of somebody who has it and is competent.',
  exceptions: 'No age is set for aircraft below 250 g that their owner built, nor for those of class C0 that are toys.',
  mend: 'On the day, after looking, write a preflight statement that covers the word crew: `preflight: [{ covers: [crew], seen: TIME, by: pilot }]`. One statement may cover several words. Write no age and no date of birth.',
  otherReading:
    'A table of an authority exempts everything below 250 g; the text of Article 9 only what was built by its owner, and toys of class C0. This tool follows the text, and does not know which C0 is a toy.',
  sources: [{ cite: '(EU) 2019/947 Art. 9', edition: '2026-10-10', trust: 'secondary copy', for: ['eu-open'] }],
  needs: ['aircraft'],
  declaredWith: 'crew',
  example: {
    faulty: '# without=preflight\ncountry: FR\n',
    sound: 'country: FR\n',
  },

  *check(plan, { world }) {
    const aircraft = isMissing(world.aircraft) ? undefined : world.aircraft;
    const mass = aircraft?.mass?.value;
    if (aircraft?.euClass?.value === 'private' && mass !== undefined && mass < EU_REGISTRATION_MASS) return;
    yield { declared: statedOnDay(plan, 'pilot-age-unstated', 'crew') };
  },
});

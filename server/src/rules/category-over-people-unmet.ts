import { present } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { claimedCategory, fitnessFor } from '../rulebook/people-category.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the aircraft does not meet the category for flight over people that the plan claims',
  question: 'Over people?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'The categories are the only way to fly over people without a waiver. Each rests on what an impact of this aircraft does to a person, and on a paper that says so; a category that the aircraft does not have protects nobody.',
  condition:
    'With `category: category 1` to `category 4` the aircraft file says in `over-people` that it is eligible for it. Category 1: at most 0.55 lb (249.48 g) on take-off with everything on board, and no exposed rotating parts. Categories 2 and 3: no exposed rotating parts, an accepted declaration of compliance, and the label of the category. Category 4: an airworthiness certificate.',
  exceptions:
    'The 11 and 25 foot-pounds (14.9 and 33.9 J) of categories 2 and 3 are proven by the declaration, not worked out from mass and speed: a frangible aircraft may carry more.',
  mend: 'Claim the category that the aircraft has, or take an aircraft that has this one.',
  sources: [
    {
      cite: '14 CFR 107.110, 107.115, 107.120, 107.125, 107.130, 107.140',
      edition: '2026-01-01',
      trust: 'secondary copy',
    },
  ],
  needs: ['aircraft'],
  waivable: ['14 CFR 107.39'],
  example: {
    faulty: 'category: category 1\n',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  max-speed: 16 m/s\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n  over-people: { category: category 1, rotors-covered: yes }\n',
  },

  *check(plan, { world, ruleSet }) {
    const category = claimedCategory(plan);
    if (category === undefined || plan.category === undefined || ruleSet !== 'us-part-107') return;
    const aircraft = present(world.aircraft);
    const { faults, lacking } = fitnessFor(category, aircraft);
    for (const { text, law } of faults) {
      yield {
        found: {
          at: plan.category.span,
          subject: `the aircraft for ${category}: ${law}`,
          message: `the aircraft ${text}; ${law} sets this for ${category}`,
          related: [{ at: aircraft.overPeople?.span ?? aircraft.nameSpan, message: 'the aircraft file says so here' }],
        },
      };
    }
    requireWhole({ lacking });
  },
});

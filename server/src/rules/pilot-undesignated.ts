import { NotAssessed } from '../facts/fact.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the plan does not say who is in command',
  question: 'Which rules apply?',
  level: { 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'When something goes wrong one person decides, and everybody knows who. Two who think that they are in command are as bad as none.',
  condition:
    'The crew has one `pilot`, by role or initials, for each flight. The plan’s form holds no second one: whoever else flies or looks stands among the `observers`.',
  mend: 'Write `crew: { pilot: { ... } }`.',
  sources: [
    { cite: '14 CFR 107.19', edition: '2026', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.050(3)', edition: '2026-10-10', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.050(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: [],
  example: { faulty: '# without=crew\n', sound: '' },

  check(plan) {
    if (plan.crew.pilot !== undefined) return [];
    requireRead(plan.slips, 'crew pilot');
    throw new NotAssessed('the plan names no pilot (crew: pilot)');
  },
});

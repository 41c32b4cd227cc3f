import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'nobody has stated that the aircraft bears its number',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Whoever finds the aircraft reads the number. One that nobody can see leads to nobody.',
  condition:
    'Where a registration is needed: its number stands legibly on an outer surface of the aircraft, and stays on. In the Union it is the sixteen characters of the operator’s number that stand there, without the secret ones.',
  mend: 'On the day, after looking, write a preflight statement that covers the word aircraft: `preflight: [{ covers: [aircraft], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [
    { cite: '14 CFR 48.200, 48.205', edition: '2026-04-05', for: ['us-recreational', 'us-part-107'] },
    { cite: '49 U.S.C. 44809(a)(8)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '(EU) 2019/947 Art. 14(8)', edition: '2026', trust: 'secondary copy', for: ['eu-open', 'eu-specific'] },
  ],
  needs: ['aircraft'],
  declaredWith: 'aircraft',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(aircraft, { plan }) {
    // Whether one is needed is another rule's question; where there is none, there is nothing to mark.
    if (aircraft.registration?.number === undefined) return;
    yield { declared: statedOnDay(plan, 'aircraft-unmarked', 'aircraft') };
  },
});

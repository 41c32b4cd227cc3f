import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that the aircraft is in order',
  question: 'What papers?',
  level: { 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A cracked propeller, a loose battery, a link that drops: all of them are seen on the ground by whoever looks, and in the air by everybody.',
  condition:
    'Within 24 hours before the flight somebody states that the whole system was checked and is in a condition for safe operation, that all control links work, and that what is attached or carried is secure and does not spoil how it flies.',
  exceptions: 'Whether the energy lasts is worked out by rules of its own.',
  mend: 'On the day, after looking, write a preflight statement that covers the word aircraft: `preflight: [{ covers: [aircraft], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [
    { cite: '14 CFR 107.15, 107.49(c) and (e)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: [],
  declaredWith: 'aircraft',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(plan) {
    yield { declared: statedOnDay(plan, 'aircraft-condition-unstated', 'aircraft') };
  },
});

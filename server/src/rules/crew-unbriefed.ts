import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that the crew was briefed',
  question: 'What papers?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'An observer who does not know what to call, and when, sees the aeroplane and says nothing in time.',
  condition:
    'Where the crew is more than the pilot: all who take part directly were told of the operating conditions, the emergency and contingency procedures, their roles and responsibilities, and the hazards; and they have a way to talk at all times.',
  exceptions: 'A pilot alone has nobody to brief.',
  mend: 'On the day, after looking, write a preflight statement that covers the word crew: `preflight: [{ covers: [crew], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [{ cite: '14 CFR 107.49(b), 107.33', edition: '2026-01-01', for: ['us-part-107'] }],
  needs: [],
  declaredWith: 'crew',
  example: {
    faulty:
      '# without=preflight\ncrew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }\n  observers:\n    - { name: second, stands: beside pilot, talks-by: voice }\n',
    sound:
      'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }\n  observers:\n    - { name: second, stands: beside pilot, talks-by: voice }\n',
  },

  *check(plan) {
    if (plan.crew.observers.length === 0) return;
    yield { declared: statedOnDay(plan, 'crew-unbriefed', 'crew') };
  },
});

import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that no transponder and no ADS-B Out transmits',
  question: 'May I fly here?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'Thousands of small aircraft that answer radar would hide the ones with people in them. Remote identification is another signal, and it stays on.',
  condition:
    'Somebody states that no transponder is on and that ADS-B Out does not transmit, unless the authority has authorised it.',
  mend: 'On the day, after looking, write a preflight statement that covers the word aircraft: `preflight: [{ covers: [aircraft], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [{ cite: '14 CFR 107.52, 107.53', edition: '2026', trust: 'secondary copy', for: ['us-part-107'] }],
  needs: [],
  declaredWith: 'aircraft',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(plan) {
    yield { declared: statedOnDay(plan, 'transponder-unstated', 'aircraft') };
  },
});

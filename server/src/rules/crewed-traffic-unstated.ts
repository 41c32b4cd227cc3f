import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated how other aircraft are seen and given way to',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A helicopter is there within a minute of being heard. Who has thought of where to go, and who calls it, is down in time.',
  condition:
    'Somebody states that the crew knows what flies here (airfields and heliports, their patterns, low routes), listens and looks for it, gives way to every aircraft with people in it, and does not get into the way of an airport. Part 107: not over, under or ahead of another aircraft unless well clear; that has no number.',
  exceptions: 'Airspace, restrictions and the zones around runways are worked out by rules of their own.',
  mend: 'On the day, after looking, write a preflight statement that covers the word traffic: `preflight: [{ covers: [traffic], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(4)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.37, 107.43', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060(2)(b)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.060', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: [],
  declaredWith: 'traffic',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(plan) {
    yield { declared: statedOnDay(plan, 'crewed-traffic-unstated', 'traffic') };
  },
});

import { statedEver } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated whose guidelines the recreational flight follows',
  question: 'Which rules apply?',
  level: { 'us-recreational': 'stop' },
  basis: 'law',
  why: 'The exception for recreation is lent to those who fly by the safety guidelines of a community-based organisation. Where the law is silent, over people for instance, the guidelines speak.',
  condition:
    'Somebody states that the flight follows the safety guidelines of a community-based organisation, made in coordination with the FAA. Being a member is not asked for.',
  mend: 'Read the guidelines and state it: `preflight: [{ covers: [guidelines], seen: DATE, by: pilot }]`. Otherwise fly under part 107.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(2)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
  ],
  needs: [],
  declaredWith: 'guidelines',
  example: {
    faulty: '# without=preflight\npurpose: recreation\n',
    sound: 'purpose: recreation\n',
  },

  *check(plan) {
    yield { declared: statedEver(plan, 'guidelines-unstated', 'guidelines') };
  },
});

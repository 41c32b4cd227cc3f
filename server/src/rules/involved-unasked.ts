import { lackingLook } from '../facts/due.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isMissing } from '../world/world.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that the people who take part were asked',
  question: 'Over people?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'Who takes part is not protected by the distances. That is only fair to somebody who knows what may happen, what to do then, and has said yes.',
  condition:
    'A2 and A3: where the plan holds people who take part (`status: participant`), each of them was told of the risk and has agreed explicitly; the crew says so in `preflight`.',
  mend: 'Ask them, and state it: `preflight: [{ covers: [involved-unasked], seen: DATE, by: pilot }]`.',
  sources: [{ cite: '(EU) 2019/947 UAS.OPEN.050(7)', edition: '2026-10-10' }],
  needs: ['people'],
  declarable: true,
  example: {
    faulty:
      'country: FR\ncategory: A3\npeople:\n  none-within: 500 m\n  no-areas-within: 500 m\n  seen: 2026-06-12\n  by: pilot\n  listed: [{ name: anglers, kind: people, status: participant, inside: { circle: 5 m, around: { lat: 47.501, lon: -120.5 } } }]\n',
    sound: 'country: FR\ncategory: A3\n',
  },

  check(plan, { world }) {
    const category = plan.category?.value;
    if (category !== 'A2' && category !== 'A3') return [];
    const listed = plan.people?.listed.find(({ status }) => status?.value === 'participant')?.name.value;
    const filed = isMissing(world.people)
      ? undefined
      : world.people.areas.find(({ status }) => status === 'participant');
    const name = listed ?? filed?.name;
    if (name === undefined) return [];
    throw lackingLook(
      plan,
      `the people at "${name}" take part; (EU) 2019/947 UAS.OPEN.050(7) asks that they were told of the risk and agreed, and the plan does not say so`,
    );
  },
});

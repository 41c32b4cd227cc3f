import { defineRule } from '../rulebook/rule.ts';
import { oldNightWaiver } from '../rulebook/waived.ts';
import { namedSections } from '../rulebook/waiver-sections.ts';
import { sayDate } from '../units/calendar.ts';

export default defineRule({
  visits: 'plan',
  title: 'a waiver of the rules for night is from before they were changed',
  question: 'By day or by night?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'Until 2021 flying at night needed a waiver. Since then everybody may who is trained for it and carries a light, and the old papers hold no more: they ask for less than the rule does.',
  condition:
    'After 17 May 2021 nobody flies at night by a waiver of 107.29 that was issued before 21 April 2021. Where `issued` is missing, the day on which the waiver begins counts.',
  mend: 'Take the old waiver out. Fly by the rule: training after 6 April 2021, and a light that flashes and is visible for 3 statute miles (4.83 km).',
  sources: [{ cite: '14 CFR 107.29(d)', edition: '2026-01-01' }],
  needs: [],
  example: {
    faulty:
      'authorisations: [{ number: W-3, sections: 14 CFR 107.29(a)(2), issued: 2021-04-20, from: 2021-05-01, until: 2027-05-01, holder: pilot }]\n',
    sound:
      'authorisations: [{ number: W-3, sections: 14 CFR 107.29(a)(2), issued: 2021-04-21, from: 2021-05-01, until: 2027-05-01, holder: pilot }]\n',
  },

  *check(plan) {
    for (const paper of plan.authorisations) {
      const old = oldNightWaiver(paper, plan);
      if (old === undefined) continue;
      const name = paper.number?.value ?? 'without a number';
      const at = paper.issued?.span ?? namedSections(paper)[0]?.written.span ?? paper.span;
      yield {
        found: {
          at,
          subject: `waiver ${name}`,
          message: `waiver "${name}" was issued on ${sayDate(old)}; by 14 CFR 107.29(d) nobody flies at night under one from before 2021-04-21`,
        },
      };
    }
  },
});

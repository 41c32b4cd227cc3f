import { defineRule } from '../rulebook/rule.ts';
import type { Written } from '../text/span.ts';

/** Words of work. They never choose the rule set; inside a plan for recreation they deserve a question. */
const WORK =
  /\b(client|clients|customer|customers|invoice|invoiced|contract|contractor|paid|payment|commission|commissioned|employer|business|commercial|company|survey|inspection|delivery|real estate|for hire|sponsor|sponsored)\b/i;

export default defineRule({
  visits: 'plan',
  title: 'a plan for recreation speaks of work',
  question: 'Which rules apply?',
  level: { 'us-recreational': 'caution' },
  basis: 'law',
  why: 'The recreational exception is only for flights made strictly for recreation. Work for another, pay, or a benefit to a business takes the flight out of it, and then part 107 holds with its certificate, its registration of each aircraft and its operating limits.',
  condition:
    '49 U.S.C. 44809(a)(1): flown strictly for recreational purposes. This check only looks for words; nothing is inferred from them, and the person who flies decides.',
  mend: 'If there is any work in it, write the purpose in your own words instead of `recreation`; the plan is then judged by part 107. If there is none, reword.',
  sources: [{ cite: '49 U.S.C. 44809(a)(1)', edition: '2018, with amendments read up to 2026-11-25' }],
  needs: [],
  example: {
    faulty: 'purpose: recreation\ntitle: Photographs for a client\n',
    sound: 'purpose: recreation\ntitle: Evening flight over the meadow\n',
  },

  *check(plan) {
    const texts: (Written<string> | undefined)[] = [
      plan.title,
      plan.site.permission?.of,
      ...plan.items.map((item) => item.id),
    ];
    const hits = texts.flatMap((text) => {
      const word = text === undefined ? undefined : WORK.exec(text.value)?.[0];
      return text === undefined || word === undefined ? [] : [{ text, word }];
    });
    const [first, ...more] = hits;
    if (first === undefined) return;
    yield {
      found: {
        at: first.text.span,
        subject: 'the plan',
        message: `the purpose is recreation, but the plan says "${first.word}"; 49 U.S.C. 44809(a)(1) allows recreation strictly and nothing else`,
        related: more.map(({ text, word }) => ({ at: text.span, message: `"${word}" stands here too` })),
      },
    };
  },
});

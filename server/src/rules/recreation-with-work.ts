import { defineRule } from '../rulebook/rule.ts';
import type { Written } from '../text/span.ts';

/** Words of one who pays. They never choose the rule set; inside a plan for recreation they deserve a question. */
const PATRON =
  /\b(?:clients?|customers?|employers?|sponsor(?:s|ed)?|invoiced?|paid|payments?|commissioned|for hire)\b/i;

/** Words of work, besides. The ground may well belong to a company, so these say nothing about its owner. */
const WORK =
  /\b(?:contract(?:s|or|ors)?|commission|business|commercial|company|survey(?:s|ing)?|inspections?|deliver(?:y|ies|ables?)|real estate|job)\b/i;

const hitsIn = (texts: readonly (Written<string> | undefined)[], words: readonly RegExp[]) =>
  texts.flatMap((text) => {
    const word = text && words.map((each) => each.exec(text.value)?.[0]).find((hit) => hit !== undefined);
    return text === undefined || word === undefined ? [] : [{ text, word }];
  });

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
    const hits = [
      ...hitsIn([plan.title], [PATRON, WORK]),
      ...hitsIn([plan.site.permission?.of], [PATRON]),
      ...hitsIn(
        plan.items.map((item) => item.id),
        [PATRON, WORK],
      ),
    ];
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

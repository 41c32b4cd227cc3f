import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance gives no reason',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'The reason is what a reviewer judges and what the next crew learns from. Without it an acceptance is only a way to be left alone.',
  condition: 'Each acceptance has `because` with the reason in words.',
  mend: 'Add `because` and say why the risk is acceptable for this flight.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'accepts: [{ rule: seen-beyond-guidance-range, up-to: 300 m, until: 2026-06-30 }]\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }) {
    if (fate !== 'without reason') return;
    yield {
      found: {
        at: acceptance.rule?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message: `the acceptance of "${acceptance.rule?.value ?? ''}" gives no reason, so it covers nothing`,
      },
    };
  },
});

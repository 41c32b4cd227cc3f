import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance names a rule that cannot be accepted',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Law, declared limits and physics do not change because somebody writes that they are acceptable. Law is lifted by data: an authorisation, a waiver, a category, each inside its own bounds.',
  condition:
    'Only rules of common practice, house limits and notes can be accepted; `waywarden rules --format json` lists them as `acceptable`.',
  mend: 'Mend the plan, or record the authorisation or waiver that lifts the finding.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'accepts: [{ rule: point-above-height-limit, because: short flight over water, up-to: 300 m, until: 2026-06-30 }]\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }) {
    if (fate !== 'not acceptable') return;
    yield {
      found: {
        at: acceptance.rule?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message: `"${acceptance.rule?.value ?? ''}" cannot be accepted; it is lifted by data or mended in the plan`,
      },
    };
  },
});

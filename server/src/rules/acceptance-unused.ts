import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance accepts nothing',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'An acceptance that no longer meets a finding looks like a risk that somebody weighed. It hides that the plan has changed since, and it would silently cover the finding if it came back.',
  condition:
    'Each acceptance meets at least one finding of its rule, at its item or in the plan, with a value no worse than its `up-to`.',
  mend: 'Take the acceptance out, or correct its place or its ceiling.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'accepts: [{ rule: seen-beyond-guidance-range, because: short flight over water, up-to: 300 m, until: 2026-06-30 }]\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }) {
    if (fate !== 'unused') return;
    yield {
      found: {
        at: acceptance.rule?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message: `the acceptance of "${acceptance.rule?.value ?? ''}" meets no finding here`,
      },
    };
  },
});

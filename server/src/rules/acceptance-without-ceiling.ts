import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance of a measured finding has no ceiling',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Accepting a value without a ceiling accepts every worse value to come. The next change of the plan could make it ten times worse and nobody would see it.',
  condition:
    'Where the finding has a value, the acceptance has `up-to` with a value of the same kind, and a worse value is found again.',
  mend: 'Add `up-to` with the value that was weighed, and its unit.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: far\n    at: 47.5, -120.49\n    altitude: 60 m AGL\n    accepts: [{ rule: seen-beyond-guidance-range, because: bright aircraft }]\n  - land: home\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }) {
    if (fate !== 'without ceiling') return;
    const name = acceptance.rule?.value ?? '';
    yield {
      found: {
        at: acceptance.upTo?.span ?? acceptance.rule?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message:
          acceptance.upTo === undefined
            ? `the acceptance of "${name}" has no "up-to", but the finding has a value; it covers nothing`
            : `the acceptance of "${name}" ends at a value of another kind than the finding has, so it covers nothing`,
      },
    };
  },
});

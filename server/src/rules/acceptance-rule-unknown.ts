import { nearestWord } from '../plan/scalars/nearest-word.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance names a rule that does not exist',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'An acceptance with a slip in the name of its rule covers nothing, although the one who wrote it believes that it does.',
  condition: 'The name in `rule` is the name of a rule.',
  mend: 'Write the name as the finding has it.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'accepts: [{ rule: seen-beyond-guidance-rang, because: short flight over water, up-to: 300 m, until: 2026-06-30 }]\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }, { ruleNames }) {
    if (fate !== 'rule unknown') return;
    const near = acceptance.rule === undefined ? undefined : nearestWord(acceptance.rule.value, ruleNames.all);
    yield {
      found: {
        at: acceptance.rule?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message: `there is no rule "${acceptance.rule?.value ?? ''}"${near === undefined ? '' : `; did you mean "${near}"?`}`,
        fixes:
          near === undefined || acceptance.rule === undefined
            ? []
            : [
                {
                  title: `Write "${near}" (was "${acceptance.rule.value}")`,
                  effect: 'same-flight',
                  edits: [{ span: acceptance.rule.span, text: near }],
                },
              ],
      },
    };
  },
});

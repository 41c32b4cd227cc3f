import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'document-too-large',
  title: 'the file is larger or deeper than any plan',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A file with thousands of items or with brackets dozens deep is no plan that a person can review, and reading it could stop the machine. What goes beyond the limit is not read and was not checked.',
  condition: 'The limits are named in the message. They lie far beyond any plan that is flown.',
  mend: 'Split the plan, or take out what does not belong into it.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `country: US
remark: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
`,
    sound: 'country: US\n',
  },

  *check(slip) {
    yield complaint(slip, `${sayPlace(slip)} is not read here: ${slip.reason}`);
  },
});

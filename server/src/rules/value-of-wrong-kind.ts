import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'value-of-wrong-kind',
  title: 'a value is not of the kind that is wanted',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A list where one value is wanted, or a word where keys are wanted, cannot be read. What it was to say is unknown, and what hangs on it was not checked.',
  condition: 'Each key takes one kind of value: text, a list, or keys of its own. Hovering over the key shows which.',
  mend: 'Write the value in the form that the message names.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'people: nobody\n',
    sound: 'people: { none-within: 150 m, seen: 2026-06-12, by: pilot }\n',
  },

  *check(slip) {
    yield complaint(slip, `${sayPlace(slip)} holds ${slip.found}; it takes ${slip.expected}`);
  },
});

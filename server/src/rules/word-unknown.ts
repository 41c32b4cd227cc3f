import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayChoices } from '../units/say.ts';

/** "a position" stands for one; it cannot be written as it is. */
const isWord = (choice: string): boolean => !choice.startsWith('a ');

export default defineSlipRule({
  visits: 'slip',
  slip: 'word-unknown',
  title: 'a word is none of those that are known here',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Where only a few words are possible, another one says nothing: it is not guessed, and what hangs on it was not checked.',
  condition: 'The value is one of the words that the message lists.',
  mend: 'Write one of the words that are offered.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office, watches: gogles }
`,
    sound: `crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office, watches: unaided }
`,
  },

  *check(slip) {
    const { suggestion } = slip;
    const others = slip.choices.filter((choice) => choice !== suggestion);
    const choices = suggestion === undefined ? others : [suggestion, ...others];
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, which is not known here; write ${sayChoices(choices)}`;
    // Even the likeliest word is a choice: one class or role can look much like another.
    yield complaint(slip, message, rewrites(slip, 'changes-flight', choices.filter(isWord).slice(0, 5)));
  },
});

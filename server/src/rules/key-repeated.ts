import { defineSlipRule } from '../rulebook/rule.ts';
import { sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'key-repeated',
  title: 'a key stands twice',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Where one key has two values, one of them is an old one that was forgotten. Programs take the first or the last without a word; a person reading the plan may take the other.',
  condition: 'Each key stands once in its map.',
  mend: 'Take one of the two out.',
  sources: [{ cite: 'YAML 1.2.2, 3.2.1.3', edition: '2021-10-01', trust: 'from memory' }],
  needs: [],
  example: {
    faulty: `country: US
country: FR
`,
    sound: 'country: US\n',
  },

  *check(slip) {
    const message = `${sayWritten(slip.key)} stands twice in ${slip.subject}, and only one of its two values can hold`;
    const related = [{ at: slip.first, message: `here ${sayWritten(slip.key)} stands for the first time` }];
    yield { found: { at: slip.span, subject: `${slip.key} of ${slip.subject}`, message, related } };
  },
});

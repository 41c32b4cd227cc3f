import type { SlipOf } from '../plan/slip.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

const fixesOf = ({ skeleton, insertAt }: SlipOf<'key-missing'>): readonly Fix[] => {
  if (skeleton === undefined || insertAt === undefined) return [];
  const title = `Add ${sayWritten(skeleton.trim())} with a value of your own`;
  return [{ title, effect: 'changes-flight', edits: [{ span: insertAt, text: skeleton }] }];
};

export default defineSlipRule({
  visits: 'slip',
  slip: 'key-missing',
  title: 'a key is missing',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Without this key the part of the plan that it stands in says too little to be checked.',
  condition: 'The keys that plan format 1 requires are there.',
  mend: 'Add the key. The text that is offered holds an example value: put your own in its place.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
    sound: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
  },

  *check(slip) {
    yield complaint(
      slip,
      `${sayPlace(slip)} has no ${sayWritten(slip.key)}, which plan format 1 requires`,
      fixesOf(slip),
    );
  },
});

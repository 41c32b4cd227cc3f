import type { SlipOf } from '../plan/slip.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

/** Only a key with its one possible value is offered: a key without a value would be the next mistake. */
const fixesOf = ({ skeleton, insertAt }: SlipOf<'key-missing'>): readonly Fix[] => {
  const entry = skeleton?.replace(/^[\s,]+|\s+$/g, '');
  if (skeleton === undefined || insertAt === undefined || entry === undefined || entry.endsWith(':')) return [];
  const title = `Add ${sayWritten(entry)}`;
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
  mend: 'Add the key with its value. Hovering over a key of the same kind elsewhere shows how it is written.',
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

import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'key-unknown',
  title: 'a key is not known',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'What stands under a key that nobody knows is not read. A misspelt altitude is no altitude, and a limit under a key of its own making is never checked, although it looks as if it were.',
  condition: 'Each map takes the keys of plan format 1 only. Case and hyphens count.',
  mend: 'Correct the key, or take it out. Remarks belong into comments, after a #.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    hodl: 30 s
    leg: { speed: 8 m/s over ground }
  - land: home
`,
    sound: `route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    hold: 30 s
    leg: { speed: 8 m/s over ground }
  - land: home
`,
  },

  *check(slip) {
    const { key, suggestion, others } = slip;
    const hint = suggestion === undefined ? '' : `; did you mean ${sayWritten(suggestion)}?`;
    const more = others === 0 ? '' : `, nor ${others === 1 ? 'is another key' : `are ${others} other keys`} there`;
    const message = `${sayWritten(key)} is no key of ${slip.subject}${more}, so what stands under it is not read${hint}`;
    yield complaint(
      slip,
      message,
      suggestion === undefined ? [] : rewrites({ ...slip, text: key }, 'same-flight', [suggestion]),
    );
  },
});

import type { SlipOf } from '../plan/slip.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';
import { sayPosition } from '../units/say.ts';

const fixesOf = (slip: SlipOf<'position-out-of-range'>): readonly Fix[] => {
  if (slip.mended !== undefined) return rewrites(slip, 'changes-flight', [slip.mended]);
  if (slip.edits === undefined || slip.swapped === undefined) return [];
  const title = `Swap latitude and longitude to ${sayPosition(slip.swapped)} (was ${sayWritten(slip.text)})`;
  return [{ title, effect: 'changes-flight', edits: slip.edits }];
};

export default defineSlipRule({
  visits: 'slip',
  slip: 'position-out-of-range',
  title: 'a position lies nowhere on the earth',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: "Latitude ends at 90 degrees and longitude at 180. A number beyond that is most often latitude and longitude in each other's place, since maps and programs do not agree which comes first. No rule about this place was checked.",
  condition: 'Latitude lies between -90 and 90 degrees, longitude between -180 and 180 degrees.',
  mend: 'Put latitude first, or correct the digits.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: -120.498, 47.5
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
    const hint = slip.swapped === undefined ? '' : '; latitude comes first';
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}: ${slip.reason}${hint}`;
    yield complaint(slip, message, fixesOf(slip));
  },
});

import { nearestWord } from '../plan/scalars/nearest-word.ts';
import type { SlipOf } from '../plan/slip.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayWritten } from '../rulebook/slip-words.ts';
import { sayList } from '../units/say.ts';

/** Where a key is taken for a misspelt telling key, the slip stands on that key. */
const fixesOf = (slip: SlipOf<'item-unknown'>): readonly Fix[] => {
  const { keys, suggestion } = slip;
  if (suggestion === undefined) return [];
  const key = nearestWord(suggestion, keys);
  if (key === undefined || slip.span.to - slip.span.from !== key.length) return [];
  return rewrites({ ...slip, text: key }, 'same-flight', [suggestion]);
};

export default defineSlipRule({
  visits: 'slip',
  slip: 'item-unknown',
  title: 'an item of the route does not say what it is',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Each item is known by one telling key, such as point or area. Without it nobody knows where the aircraft goes there, so neither the item nor the legs beside it were checked.',
  condition:
    'Each item of the route has one of the keys take-off, point, area, survey, corridor, circle, hold, battery or land, with the name of the item after it.',
  mend: 'Write the telling key first in the item.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - pont: east-bank
    at: 47.5, -120.498
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
    const { keys, suggestion } = slip;
    const has = keys.length === 0 ? 'has no keys' : `has the keys ${sayList(keys.map(sayWritten))}`;
    const hint = suggestion === undefined ? 'such as "point" or "area"' : `such as ${sayWritten(suggestion)}`;
    const message = `${slip.subject} ${has} and none that tells what it is, ${hint}`;
    yield complaint(slip, message, fixesOf(slip));
  },
});

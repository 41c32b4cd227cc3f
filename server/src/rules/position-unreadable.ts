import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'position-unreadable',
  title: 'a position cannot be read',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A place that cannot be read is not on the map: no height over ground, no zone and no distance was checked there, nor on the legs that meet there.',
  condition:
    'A position is latitude, then longitude, in degrees: 47.5021, -120.4813. Letters N, S, E and W may stand instead of signs, and degrees, minutes and seconds instead of decimals. In a map it is { lat: 47.5021, lon: -120.4813 }.',
  mend: 'Write the position in one of these forms, with a decimal point.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `route:
  - take-off: home
  - point: east-bank
    at: 47,5, -120,498
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
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, which cannot be read as a position: ${slip.reason}`;
    const mended = slip.mended === undefined ? [] : [slip.mended];
    yield complaint(slip, message, rewrites(slip, 'same-flight', mended));
  },
});

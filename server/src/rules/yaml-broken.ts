import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, sayPlace } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'yaml-broken',
  title: 'the text cannot be read as YAML',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A bracket, a quote or an indentation is wrong, so it is not certain which words belong together. What stands around this place was read as far as possible, and the rest was not checked.',
  condition:
    'The file is YAML 1.2: keys, a colon and a blank, the same indentation for what belongs together, and a closing mark for each opening one.',
  mend: 'Correct the place that the message names. The first one is the cause most often; others may vanish with it.',
  sources: [{ cite: 'YAML 1.2.2, chapters 5 to 9', edition: '2021-10-01', trust: 'from memory' }],
  needs: [],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }\n',
  },

  *check(slip) {
    yield complaint(slip, `${sayPlace(slip)} cannot be read here: ${slip.reason}`);
  },
});

import { refusePattern } from '../facts/pattern.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'item',
  title: 'a pattern of legs is not judged in this version',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Surveys, corridors and circles stand for many legs. They are read and kept, but this version does not work the legs out, so height, airspace and sight inside them are not checked.',
  condition: 'The route holds no `survey`, `corridor` or `circle` item.',
  mend: 'Write the corners as points, or describe the volume as an `area` flown by hand.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'route:\n  - take-off: home\n  - survey: meadow\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
  },

  check(item) {
    refusePattern(item);
    return [];
  },
});

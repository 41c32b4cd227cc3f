import { isPattern, patternCourse } from '../facts/pattern.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'item',
  title: 'a survey, corridor or circle cannot be flown as it is written',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'The legs of a pattern are worked out from its outline and its numbers. Where those contradict themselves there are no legs, and neither height, airspace nor sight inside the pattern can be checked.',
  condition:
    'The outline does not cross itself, the lines lie apart from each other, and there are at most 2,000 of them. The rest of the flight is judged all the same.',
  mend: 'Put the corners in the order in which they follow each other around the outline; look at the number and its unit.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { polygon: [{ lat: 47.5001, lon: -120.4995 }, { lat: 47.5009, lon: -120.4985 }, { lat: 47.5009, lon: -120.4995 }, { lat: 47.5001, lon: -120.4985 }] }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n  - point: bank\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { polygon: [{ lat: 47.5001, lon: -120.4995 }, { lat: 47.5009, lon: -120.4995 }, { lat: 47.5009, lon: -120.4985 }, { lat: 47.5001, lon: -120.4985 }] }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n  - point: bank\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(item, { ask }) {
    if (!isPattern(item)) return;
    const course = ask(patternCourse, item);
    if (course.kind !== 'impossible') return;
    yield { found: { at: course.at, subject: `${item.kind} ${item.id.value}`, message: course.why } };
  },
});

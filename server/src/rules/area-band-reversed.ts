import { roomBetween } from '../facts/area-band.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayInItsWords } from '../rulebook/written-height.ts';

export default defineRule({
  visits: 'item',
  title: 'the lower height of an area lies above its upper one',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'Whoever reads `from: 40 m AGL, to: 5 m AGL` has to guess whether the two were exchanged or one of them has slipped. The review takes the band the right way round; the crew at the site may not.',
  condition: 'Where both heights of an area count from the same thing, `from` is not above `to`.',
  mend: 'Exchange the two heights, or correct the one that slipped.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 40 m AGL\n    to: 25 m AGL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 25 m AGL\n    to: 40 m AGL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
  },

  *check(item) {
    const { from, to } = item.area ?? {};
    if (from === undefined || to === undefined) return;
    if (!((roomBetween({ lower: from, upper: to }) ?? 0) < 0)) return;
    const lower = sayInItsWords(to, to.number);
    const upper = sayInItsWords(from, from.number);
    yield {
      found: {
        at: from.span,
        subject: `area ${item.id.value}`,
        message: `area ${item.id.value} is flown from ${upper} to ${lower}, and the first is above the second; the plan format sets that "from" is the lower one`,
        related: [{ at: to.span, message: 'the other height' }],
        fixes: [
          {
            title: `Exchange the two heights: from ${lower} to ${upper}`,
            effect: 'same-flight',
            edits: [
              { span: from.span, text: lower },
              { span: to.span, text: upper },
            ],
          },
        ],
      },
    };
  },
});

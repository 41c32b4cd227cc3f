import { type Box, boxAround, boxesMeet } from '../geo/box.ts';
import type { AreaShape } from '../plan/model.ts';
import { selectRuleSet } from '../rulebook/countries.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { Written } from '../text/span.ts';
import { degrees, type LonLat } from '../units/frames.ts';
import { sayPosition } from '../units/say.ts';

const box = (west: number, south: number, east: number, north: number): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

/**
 * Generous boxes around the territory: they can only contradict, never choose. From memory: the conterminous States,
 * Alaska with the Aleutians (over the 180° meridian), Hawaii, Puerto Rico and the Virgin Islands, Guam and the Northern
 * Marianas, American Samoa.
 */
const UNITED_STATES = [
  box(-125.5, 24, -66, 49.6),
  box(172, 51, -129.5, 72),
  box(-179, 18, -154, 29),
  box(-68.5, 17.3, -64.2, 19),
  box(144, 13, 147, 21),
  box(-171.5, -15, -168, -10.8),
];

/** Europe with the Azores, Madeira and the Canaries, Iceland and Svalbard; and the outermost regions of the Union. */
const OPEN_CATEGORY = [
  box(-32, 27, 35.5, 81),
  box(-63.5, 14, -60.5, 18.5),
  box(-55, 2, -51, 6),
  box(55, -21.6, 56, -20.7),
  box(44.8, -13.2, 45.5, -12.4),
];

const areaPositions = (inside: AreaShape | undefined): readonly Written<LonLat>[] => {
  if (inside === undefined) return [];
  return inside.kind === 'circle' ? [inside.around] : inside.ring;
};

export default defineRule({
  visits: 'plan',
  title: 'the positions do not lie in the country that the plan states',
  question: 'Which rules apply?',
  level: 'stop',
  basis: 'language',
  why: 'Either the country or a position is wrong. With the wrong country the flight is judged by the wrong law; with a wrong position everything about ground and airspace is judged at the wrong place.',
  condition:
    'At least one position of the plan lies within a generous box around the country or its rule area. A single position that lies elsewhere is told by the rules about positions.',
  mend: 'Correct the country, or the position: a lost sign and swapped latitude and longitude are the usual causes.',
  sources: [{ cite: 'boxes around territories', edition: '1', trust: 'from memory' }],
  needs: [],
  example: { faulty: 'country: FR\n', sound: 'country: US\n' },

  *check(plan, { settings }) {
    const country = plan.country ?? settings.country;
    if (country === undefined) return;
    const { ruleSet } = selectRuleSet(country.value, plan.purpose?.value);
    if (ruleSet === undefined) return;
    const areas = ruleSet === 'eu-open' ? OPEN_CATEGORY : UNITED_STATES;
    const written = [
      plan.site.takeOff?.at,
      ...plan.items.flatMap((item) => [item.at, ...areaPositions(item.area?.inside)]),
    ].filter((at) => at !== undefined);
    const outside = written.filter((at) => {
      const point = boxAround([at.value]);
      return point !== undefined && !areas.some((area) => boxesMeet(area, point));
    });
    const [first] = outside;
    // A single place that lies elsewhere is the business of the rule about slipped positions.
    if (first === undefined || outside.length < written.length) return;
    yield {
      found: {
        at: plan.country?.span ?? plan.titleSpan,
        subject: 'the plan',
        message: `the ${plan.country === undefined ? 'settings state' : 'plan states'} the country "${country.value}", but ${sayPosition(first.value)} does not lie there`,
        related: outside.slice(1, 6).map((at) => ({ at: at.span, message: 'this position lies elsewhere, too' })),
      },
    };
  },
});

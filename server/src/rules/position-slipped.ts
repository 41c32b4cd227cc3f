import { FAR, planPositions } from '../facts/plan-positions.ts';
import { distance } from '../geo/geodesy.ts';
import type { WrittenPosition } from '../plan/model.ts';
import type { Edit, Fix } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { endOf, startOf } from '../text/span.ts';
import { type LonLat, lonLat } from '../units/frames.ts';
import { sayCount, sayDistance, sayNumber, sayPosition } from '../units/say.ts';

/** A mended position must come this near to the other places, in metres. */
const NEAR = 10_000;

/** The usual slips, undone: latitude and longitude swapped, a sign lost, one digit wrong in the whole degrees. */
const candidates = ({ lon, lat }: LonLat): readonly { readonly what: string; readonly at: LonLat }[] => {
  const found = [
    { what: 'swapped latitude and longitude', at: lonLat(lat, lon) },
    { what: 'a lost sign of the longitude', at: lonLat(-lon, lat) },
    { what: 'a lost sign of the latitude', at: lonLat(lon, -lat) },
    { what: 'lost signs', at: lonLat(-lon, -lat) },
    { what: 'swapped latitude and longitude with a lost sign', at: lonLat(-lat, lon) },
    { what: 'swapped latitude and longitude with a lost sign', at: lonLat(lat, -lon) },
  ];
  for (const step of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]) {
    for (const sign of [1, -1]) {
      found.push({ what: 'a slipped digit of the latitude', at: lonLat(lon, lat + sign * step) });
      found.push({ what: 'a slipped digit of the longitude', at: lonLat(lon + sign * step, lat) });
    }
  }
  return found.filter(({ at }) => Math.abs(at.lat) <= 90 && Math.abs(at.lon) <= 180);
};

/**
 * A position as one text. Between brackets a plain one would fall apart at its comma, so what is not as long as the plain
 * text of the old position (because it stands in quotes, or is written in another way) gets quotes.
 */
const inItsPlace = (written: WrittenPosition, at: LonLat): string => {
  const isPlain = endOf(written.span) - startOf(written.span) === sayPosition(written.value).length;
  return isPlain ? sayPosition(at) : `"${sayPosition(at)}"`;
};

/** The edits that write another position in the notation of the place: one text, or latitude and longitude apart. */
const editsTo = (written: WrittenPosition, at: LonLat): readonly Edit[] =>
  written.parts === undefined
    ? [{ span: written.span, text: inItsPlace(written, at) }]
    : [
        { span: written.parts.lat, text: sayNumber(at.lat, 6) },
        { span: written.parts.lon, text: sayNumber(at.lon, 6) },
      ];

export default defineRule({
  visits: 'plan',
  title: 'a position lies far away from the rest of the flight',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Swapped latitude and longitude, a lost sign or one wrong digit send the aircraft, or everything that is checked about it, to another part of the world.',
  condition: 'Every position of the plan lies within 20 km of the place around which most of them lie.',
  mend: 'Correct the position. Where undoing one of the usual slips brings it back, a fix offers that.',
  sources: [{ cite: 'a flight within sight', edition: '1', trust: 'common practice, no source' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 46.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(plan, { ask }) {
    const { positions, middle, together } = ask(planPositions, plan);
    if (middle === undefined || together) return;
    for (const position of positions) {
      const far = distance(middle.at.value, position.at.value);
      if (far <= FAR) continue;
      const mends = candidates(position.at.value).filter(({ at }) => distance(at, middle.at.value) <= NEAR);
      const fixes = mends.slice(0, 3).map(
        ({ what, at }): Fix => ({
          title: `Write "${sayPosition(at)}" (was "${sayPosition(position.at.value)}"): ${what}`,
          effect: 'changes-flight',
          edits: editsTo(position.at, at),
        }),
      );
      yield {
        found: {
          at: position.at.span,
          subject: `position of ${position.name}`,
          message: `${position.name} lies ${sayDistance(far)} from ${middle.name}${positions.length > 2 ? `, where ${sayCount(positions.length, 'position')} of the plan should lie together` : ''}${mends[0] === undefined ? '' : `; it looks like ${mends[0].what}`}`,
          fixes,
        },
      };
    }
  },
});

import { farPlaces } from '../facts/farthest-from-watchers.ts';
import { requireWhole } from '../facts/lacking.ts';
import { sightRange } from '../facts/sight-range.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayCount, sayNumber } from '../units/say.ts';

const BY = {
  'aircraft size': 'guidance for an aircraft of this size',
  visibility: 'guidance for this visibility',
  house: 'the house (waywarden.settings.yaml)',
} as const;

export default defineRule({
  visits: 'flight',
  title: 'the aircraft gets farther from the pilot than it can be made out',
  question: 'Who must see it?',
  level: 'caution',
  basis: 'practice',
  why: 'The pilot has to see where the aircraft is, which way it points and what comes near it, with unaided eyes and all the time. A dot in the sky tells none of that. The law gives no number; the guidance gives one by the size of the aircraft.',
  condition:
    'The slant range from the pilot is not more than 327 times the largest dimension plus 20 m (rotorcraft) or 490 times plus 30 m (fixed wing), and not more than 0.3 of the ground visibility, of which at most 5 km counts. A range that the house has tried with its aircraft (`sight-range`) replaces the formula. One finding for a flight, at its farthest place.',
  exceptions:
    'An observer does not extend the range of the one who must see. What hides the aircraft is not worked out in this version.',
  mend: 'Move the pilot nearer to the middle of the route, or fly in parts.',
  sources: [
    {
      cite: 'EASA, Guidelines for UAS operations in the open and specific category, Issue 03',
      edition: '2025-07-17',
      trust: 'secondary copy',
    },
    {
      cite: 'LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7, section 7.1',
      edition: '2024-11-26',
      trust: 'secondary copy',
    },
    { cite: '14 CFR 107.31(a)', edition: '2026-01-01', for: ['us-part-107'] },
  ],
  needs: ['aircraft', 'terrain', 'weather'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: far-bank\n    at: 47.5, -120.4965\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: near-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(flight, { ask, plan }) {
    const sight = ask(sightRange, plan);
    const far = ask(farPlaces, flight);
    const pilots = far.places.flatMap(({ subject, written, ranges }) =>
      ranges.filter(({ watcher }) => watcher.member.role === 'pilot').map((range) => ({ subject, written, ...range })),
    );
    const [first] = pilots;
    if (first !== undefined) {
      const farthest = pilots.reduce((one, other) => (other.range > one.range ? other : one), first);
      const beyond = pilots.filter(({ range }) => exceeds(range, sight.range));
      const measured = { value: farthest.range, unit: 'm' } as const;
      const limit = { value: sight.range, unit: 'm', setBy: BY[sight.by] } as const;
      const place = { at: farthest.at, ...(farthest.along === undefined ? {} : { alongM: farthest.along }) };
      if (beyond.length === 0) {
        yield {
          margin: {
            subject: farthest.subject,
            at: farthest.written,
            measured,
            limit,
            room: sight.range - farthest.range,
            place,
          },
        };
      } else {
        yield {
          found: {
            at: farthest.written,
            subject: `flight ${flight.number}`,
            message: `${farthest.subject} gets ${sayNumber(farthest.range)} m from the pilot (${sayCount(beyond.length, 'leg or area', 'legs and areas')} beyond); ${BY[sight.by]} gives ${sayNumber(sight.range)} m`,
            measured,
            limit,
            place,
            related: beyond
              .filter((one) => one !== farthest)
              .map((one) => ({
                at: one.written,
                message: `${one.subject} gets ${sayNumber(one.range)} m from the pilot`,
              })),
          },
        };
      }
    }
    requireWhole(far);
    requireWhole(sight);
  },
});

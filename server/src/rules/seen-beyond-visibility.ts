import { NotAssessed } from '../facts/fact.ts';
import { farPlaces } from '../facts/farthest-from-watchers.ts';
import { requireWhole } from '../facts/lacking.ts';
import type { Stated } from '../facts/stated-weather.ts';
import { visibilityInWindow } from '../facts/weather-in-window.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { type Metres, metres } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';
import type { VisibilityBounds } from '../world/weather-report.ts';

/** What the visibility surely is not more than; infinite where a report says "or more". */
const surely = ({ value }: Stated<VisibilityBounds>): Metres => value.most ?? metres(Number.POSITIVE_INFINITY);

export default defineRule({
  visits: 'flight',
  title: 'the aircraft gets farther from the pilot than the visibility reaches',
  question: 'Who must see it?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Beyond the visibility nothing can be seen at all, neither the aircraft nor what comes near it.',
  condition:
    'The slant range from the pilot to every leg and area is not more than the visibility in the window, by hand or by a report. `M1/4SM` is less than a quarter of a mile.',
  mend: 'Wait for better visibility, or stay nearer.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(3)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.31(a)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 4(1)(d)', edition: '2026-10-10', for: ['eu-open'] },
  ],
  needs: ['weather', 'terrain'],
  waivable: ['14 CFR 107.31'],
  example: {
    faulty: 'weather: { visibility: 150 m, wind: { from: 240 deg, speed: 3 m/s } }\n',
    sound: 'weather: { visibility: 10 km, wind: { from: 240 deg, speed: 3 m/s } }\n',
  },

  *check(flight, { ask, plan }) {
    const seen = ask(visibilityInWindow, plan);
    const [worst] = [...seen.values].sort((one, other) => surely(one) - surely(other));
    const far = ask(farPlaces, flight);
    const pilots = far.places.flatMap(({ subject, written, ranges }) =>
      ranges.filter(({ watcher }) => watcher.member.role === 'pilot').map((range) => ({ subject, written, ...range })),
    );
    const [first] = pilots;
    if (first !== undefined && worst !== undefined) {
      const farthest = pilots.reduce((one, other) => (other.range > one.range ? other : one), first);
      const { least } = worst.value;
      const most = surely(worst);
      const measured = { value: farthest.range, unit: 'm' } as const;
      const setBy = `the visibility of ${worst.by}`;
      const place = { at: farthest.at, ...(farthest.along === undefined ? {} : { alongM: farthest.along }) };
      if (exceeds(farthest.range, most)) {
        yield {
          found: {
            at: farthest.written,
            subject: `flight ${flight.number}`,
            message: `${farthest.subject} gets ${sayNumber(farthest.range)} m from the pilot; ${setBy} is ${least < most ? 'less than ' : ''}${sayDistance(most)}`,
            measured,
            limit: { value: most, unit: 'm', setBy },
            place,
            related: [{ at: worst.at, message: 'the visibility stands here' }],
          },
        };
      } else if (exceeds(farthest.range, least)) {
        throw new NotAssessed(
          `${farthest.subject} gets ${sayNumber(farthest.range)} m from the pilot, and "${worst.written}" in ${worst.by} does not tell whether the visibility reaches as far`,
        );
      } else {
        const limit = { value: least, unit: 'm', setBy } as const;
        const room = least - farthest.range;
        yield { margin: { subject: farthest.subject, at: farthest.written, measured, limit, room, place } };
      }
    }
    requireWhole(seen);
    requireWhole(far);
  },
});

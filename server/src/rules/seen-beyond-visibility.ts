import { lackingWeather } from '../facts/due.ts';
import { farPlaces } from '../facts/farthest-from-watchers.ts';
import { requireWhole } from '../facts/lacking.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'the aircraft gets farther from the pilot than the visibility reaches',
  question: 'Who must see it?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Beyond the visibility nothing can be seen at all, neither the aircraft nor what comes near it.',
  condition:
    'The slant range from the pilot to every leg and area is not more than the visibility in the plan’s weather.',
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
    const { visibility } = plan.weather;
    if (visibility === undefined) throw lackingWeather(plan, 'the plan gives no visibility');
    const far = ask(farPlaces, flight);
    const pilots = far.places.flatMap(({ subject, written, ranges }) =>
      ranges.filter(({ watcher }) => watcher.member.role === 'pilot').map((range) => ({ subject, written, ...range })),
    );
    const [first] = pilots;
    if (first !== undefined) {
      const farthest = pilots.reduce((one, other) => (other.range > one.range ? other : one), first);
      const measured = { value: farthest.range, unit: 'm' } as const;
      const limit = { value: visibility.value, unit: 'm', setBy: 'the visibility of this plan' } as const;
      const place = { at: farthest.at, ...(farthest.along === undefined ? {} : { alongM: farthest.along }) };
      if (!exceeds(farthest.range, visibility.value)) {
        const room = visibility.value - farthest.range;
        yield { margin: { subject: farthest.subject, at: farthest.written, measured, limit, room, place } };
      } else {
        yield {
          found: {
            at: farthest.written,
            subject: `flight ${flight.number}`,
            message: `${farthest.subject} gets ${sayNumber(farthest.range)} m from the pilot; the visibility of this plan is ${sayDistance(visibility.value)}`,
            measured,
            limit,
            place,
            related: [{ at: visibility.span, message: 'the visibility stands here' }],
          },
        };
      }
    }
    requireWhole(far);
  },
});

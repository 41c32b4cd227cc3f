import { defineRule } from '../rulebook/rule.ts';
import { sayOffset, type ZonedTime } from '../units/calendar.ts';
import { sayNumber } from '../units/say.ts';

/** Legal times stray from the sun by up to about three hours and a half (from memory: the west of China, 3 h). */
const MOST_HOURS = 3.5;

/** Around the clock: beyond the 180th meridian the date differs, not the time of day. */
const hoursApart = ({ offsetMinutes }: ZonedTime, solar: number): number => {
  const apart = Math.abs(offsetMinutes / 60 - solar);
  return Math.min(apart, Math.abs(24 - apart));
};

export default defineRule({
  visits: 'plan',
  title: 'the offset of the window does not fit the place',
  question: 'Is the plan of today?',
  level: 'note',
  basis: 'language',
  why: 'A time written with the offset of the office, or with the winter offset in summer, moves the whole flight: light, restrictions and validity are then judged for another hour.',
  condition:
    'The offset from UTC differs by at most 3.5 h from the sun’s time at the take-off (15° of longitude are an hour).',
  mend: 'Write the offset that clocks at the take-off show on that day. `Z` is always taken as meant.',
  sources: [{ cite: 'spread of legal times', edition: '1', trust: 'from memory' }],
  needs: [],
  example: {
    faulty: 'window: { from: 2026-06-14 06:40 +02:00, until: 2026-06-14 07:10 +02:00 }\n',
    sound: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
  },

  *check(plan) {
    const ends = [plan.window?.from, plan.window?.until].filter((end) => end !== undefined);
    const place = plan.site.takeOff?.at ?? plan.items.find((item) => item.at !== undefined)?.at;
    if (place === undefined) return;
    const solar = place.value.lon / 15;
    const strange = ends.find(({ value }) => value.offsetMinutes !== 0 && hoursApart(value, solar) > MOST_HOURS);
    if (strange === undefined) return;
    yield {
      found: {
        at: strange.span,
        subject: 'the window',
        message: `the window is written at the offset ${sayOffset(strange.value.offsetMinutes)}, but the sun’s time at the take-off is about UTC${solar < 0 ? '-' : '+'}${sayNumber(Math.abs(solar))} h`,
      },
    };
  },
});

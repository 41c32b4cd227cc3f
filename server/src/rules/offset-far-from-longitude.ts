import { defineRule } from '../rulebook/rule.ts';
import { sayOffset } from '../units/calendar.ts';
import { sayNumber } from '../units/say.ts';

/** Legal times stray from the sun by up to about three hours and a half (from memory: the west of China, 3 h). */
const MOST_HOURS = 3.5;

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
    const from = plan.window?.from;
    const place = plan.site.takeOff?.at ?? plan.items.find((item) => item.at !== undefined)?.at;
    if (from === undefined || place === undefined || from.value.offsetMinutes === 0) return;
    const solar = place.value.lon / 15;
    const written = from.value.offsetMinutes / 60;
    const apart = Math.abs(written - solar);
    if (Math.min(apart, 24 - apart) <= MOST_HOURS) return;
    yield {
      found: {
        at: from.span,
        subject: 'the window',
        message: `the window is written at the offset ${sayOffset(from.value.offsetMinutes)}, but the sun’s time at the take-off is about UTC${solar < 0 ? '-' : '+'}${sayNumber(Math.abs(solar))} h`,
      },
    };
  },
});

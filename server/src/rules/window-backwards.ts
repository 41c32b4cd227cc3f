import { defineRule } from '../rulebook/rule.ts';
import { sayTime } from '../units/calendar.ts';

export default defineRule({
  visits: 'plan',
  title: 'the window ends before it begins',
  question: 'Is the plan of today?',
  level: 'stop',
  basis: 'language',
  why: 'Light, papers and restrictions are judged over the window. A window that runs backwards holds no time at all.',
  condition: '`until` is later than `from`.',
  mend: 'Correct the time that slipped; a flight past midnight ends on the next date.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'window: { from: 2026-06-14 08:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
    sound: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
  },

  *check(plan) {
    const from = plan.window?.from;
    const until = plan.window?.until;
    if (from === undefined || until === undefined || until.value.at > from.value.at) return;
    yield {
      found: {
        at: until.span,
        subject: 'the window',
        message: `the window ends at ${sayTime(until.value)}, which is not after its beginning at ${sayTime(from.value)}`,
        related: [{ at: from.span, message: 'the window begins here' }],
      },
    };
  },
});

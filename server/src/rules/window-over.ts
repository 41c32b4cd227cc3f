import { given } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';
import { newKey } from '../rulebook/words.ts';
import { dateAt, sayDate, sayTimeAndUtc } from '../units/calendar.ts';

export default defineRule({
  visits: 'plan',
  title: 'the window of the flight is over',
  question: 'Is the plan of today?',
  level: 'stop',
  basis: 'declared',
  why: 'A plan whose time is past was judged for another day: other light, other papers, other restrictions. Flown today as it stands, nothing in the report would be about today.',
  condition:
    'The end of `window` lies after the time of checking, or the plan says `flown`; it is then judged as of that day and kept out of the gate.',
  mend: 'Write the new window and make the statements of the day anew; or, for a flight that took place, add `flown` with its date.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: ['now'],
  example: {
    faulty: 'window: { from: 2026-05-14 06:40 -07:00, until: 2026-05-14 07:10 -07:00 }\n',
    sound: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
  },

  *check(plan, { now }) {
    if (plan.flown !== undefined) return;
    const until = given(plan.window?.until, 'the end of the window');
    const from = plan.window?.from;
    // A window that runs backwards is told as that, and which of its ends slipped is not known.
    if (until.value.at >= now || (from !== undefined && from.value.at >= until.value.at)) return;
    const day = sayDate(dateAt(until.value.at, until.value.offsetMinutes));
    yield {
      found: {
        at: until.span,
        subject: 'the window',
        message: `the window ended at ${sayTimeAndUtc(until.value)}, before this check, and the plan does not say that it was flown`,
        fixes: [
          {
            title: `Add "flown: ${day}": the flight took place`,
            effect: 'changes-flight',
            edits: [newKey(plan, `flown: ${day}`)],
          },
        ],
      },
    };
  },
});

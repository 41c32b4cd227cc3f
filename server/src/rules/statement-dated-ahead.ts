import { isAhead, type Look, looksOf, yearMeant } from '../facts/looks.ts';
import type { Fix } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayTime } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import { sayCount, sayList } from '../units/say.ts';

/** One fix for all whose year alone can be wrong; none where nobody can tell what was meant. */
const yearFixes = (ahead: readonly Look[], now: Instant): readonly Fix[] => {
  const slips = ahead.flatMap((look) => {
    const year = yearMeant(look, now);
    return year === undefined || look.written === undefined ? [] : [{ span: look.written.digits, year }];
  });
  const [first] = slips;
  // A part of them mended would still be a finding.
  if (first === undefined || slips.length < ahead.length) return [];
  return [
    {
      title: `Only if the year is a slip of the pen: write "${first.year}" (was "${first.year + 1}")`,
      effect: 'changes-flight',
      edits: slips.map(({ span, year }) => ({ span, text: String(year) })),
    },
  ];
};

export default defineRule({
  visits: 'plan',
  title: 'something in the plan is dated ahead of the check, as if it had happened',
  question: 'Is the plan of today?',
  level: 'stop',
  basis: 'declared',
  why: 'A statement tells what somebody saw. One that is dated ahead was written before anybody looked: the restrictions "looked up" tomorrow morning are not looked up, and the plan would pass although nobody ever did.',
  condition:
    'No `seen`, `retrieved`, `given` or `tested` of the plan, and no `retrieved` of a file that it names, lies after the time of checking. A date alone counts from the beginning of its day at the offset of the window. Five minutes are left for clocks that differ.',
  mend: 'Take the statement out until somebody has looked; what can only be said later is then listed with the time from which it is due. Or correct the date.',
  sources: [
    { cite: 'plan format 1', edition: '1' },
    { cite: 'the five minutes', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: ['now'],
  example: {
    faulty: 'people: { none-within: 500 m, no-areas-within: 500 m, seen: 2026-06-14, by: pilot }\n',
    sound: 'people: { none-within: 500 m, no-areas-within: 500 m, seen: 2026-06-13, by: pilot }\n',
  },

  *check(plan, { now, world }) {
    // A flight that took place is judged as of its day; what is dated after that is told by other rules.
    if (plan.flown !== undefined) return;
    const ahead = looksOf(plan, world).filter((look) => isAhead(look, now));
    const [first, ...more] = ahead;
    if (first === undefined) return;
    const time = sayTime({ at: now, offsetMinutes: plan.window?.from?.value.offsetMinutes ?? 0 });
    const said = ({ of, said: when }: Look): string => `${of} (${when})`;
    yield {
      found: {
        at: first.span,
        subject: 'the statements',
        message: `${sayCount(ahead.length, 'date')} in the plan ${ahead.length === 1 ? 'lies' : 'lie'} after this check at ${time}: ${sayList(ahead.map(said))}; a statement tells what has been seen, not what will be`,
        related: more.map((look) => ({ at: look.span, message: `${said(look)} lies ahead, too` })),
        fixes: yearFixes(ahead, now),
      },
    };
  },
});

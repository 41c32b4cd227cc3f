import { defineRule } from '../rulebook/rule.ts';
import { dateAt, daysBetween, sayDate } from '../units/calendar.ts';

export default defineRule({
  visits: 'plan',
  title: 'the plan says that it was flown on a day that has not come',
  question: 'Is the plan of today?',
  level: 'stop',
  basis: 'declared',
  why: 'A flown plan is history: it is judged as of its day and kept out of the gate. A plan that is still to be flown must not get past the gate by a date.',
  condition:
    'The day in `flown` is not after the time of checking. Where it is, the plan is judged as one still to be flown.',
  mend: 'Take `flown` out, or correct its date.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: ['now'],
  example: { faulty: 'flown: 2026-06-14\n', sound: 'title: Still to be flown\n' },

  *check(plan, { now }) {
    if (plan.flown === undefined) return;
    const today = dateAt(now, plan.window?.from?.value.offsetMinutes ?? 0);
    if (daysBetween(today, plan.flown.value) <= 0) return;
    yield {
      found: {
        at: plan.flown.span,
        subject: 'the plan',
        message: `the plan says that it was flown on ${sayDate(plan.flown.value)}, and today is ${sayDate(today)}`,
      },
    };
  },
});

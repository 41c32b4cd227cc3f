import { flightDay } from '../facts/flight-day.ts';
import { defineRule } from '../rulebook/rule.ts';
import { daysBetween, sayDate } from '../units/calendar.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the permission of the ground owner is given after the flight',
  question: 'What papers?',
  level: 'caution',
  basis: 'declared',
  why: 'A permission that comes after the flight does not cover it. Mostly the date is left over from another plan or mistyped.',
  condition: 'The day in `site.permission.given` is not after the day on which the window ends.',
  mend: 'Write the day on which it was given, or move the flight.',
  sources: [{ cite: 'leave of the ground owner', edition: '1', trust: 'common practice, no source' }],
  needs: [],
  example: {
    faulty:
      'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-15 } }\n',
    sound:
      'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-14 } }\n',
  },

  *check(plan, { ask }) {
    const { permission } = plan.site;
    if (permission?.given === undefined || plan.window === undefined) return;
    const day = ask(flightDay, plan);
    const late = daysBetween(day, permission.given.value);
    if (late <= 0) return;
    yield {
      found: {
        at: permission.given.span,
        subject: 'the ground owner',
        message: `the permission of the ground owner is dated ${sayDate(permission.given.value)}, ${sayCount(late, 'day')} after the flight of ${sayDate(day)}; the plan sets both`,
        measured: { value: late, unit: 'days' },
        limit: { value: 0, unit: 'days', setBy: 'this plan (window)' },
      },
    };
  },
});

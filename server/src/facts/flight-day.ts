import type { Plan } from '../plan/model.ts';
import { type CalendarDate, dateAt } from '../units/calendar.ts';
import { defineFact, given } from './fact.ts';

/**
 * The day on which papers have to be valid: the day the window ends on, at the window's own offset. A paper that lapses
 * between take-off and landing has lapsed for the flight.
 */
export const flightDay = defineFact({
  name: 'flight day',
  derive: (plan: Plan): CalendarDate => {
    const until = given(plan.window?.until ?? plan.window?.from, 'the window of the flight');
    return dateAt(until.value.at, until.value.offsetMinutes);
  },
});

import { competencyDuty } from '../facts/competency-duty.ts';
import { given, NotAssessed } from '../facts/fact.ts';
import { flightDay } from '../facts/flight-day.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';
import { daysBetween, sayDate } from '../units/calendar.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the pilot’s test or training is too old on the day of the flight',
  question: 'What papers?',
  level: { 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Rules and airspace change, and what is not used is forgotten. It is judged for the day of the flight, not for that of the check, so that a plan made ahead meets no surprise in the field.',
  condition:
    'Part 107: the initial test, the recurrent training, or the training of a part 61 pilot with a current flight review was completed within the previous 24 calendar months: done on any day of November 2024 it counts until 30 November 2026. EU open category: the proof is valid for five years, through the same day of the fifth year. `tested` is the day of the last of them.',
  exceptions:
    'The recreational test does not lapse. Of a part 61 pilot the flight review itself (14 CFR 61.56) is not in the plan.',
  mend: 'Complete the recurrent training, or renew the proof, and write its day into `tested`. No waiver lifts this.',
  otherReading:
    'Whether the same day of the fifth year still counts is not said in the text that was read; the certificate states its own end, and that holds.',
  sources: [
    { cite: '14 CFR 107.65', edition: '2026', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.070', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
  ],
  ask: { whom: 'whoever gives the test or the training', kind: 'competency' },
  needs: ['aircraft'],
  example: {
    faulty: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2024-05-31, seen-by: office }\n',
    sound: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2024-06-01, seen-by: office }\n',
  },

  *check(plan, { ask }) {
    const tested = plan.crew.pilot?.tested;
    const term = ask(competencyDuty, plan)?.term;
    if (term === undefined) return;
    if (tested === undefined) requireRead(plan.slips, 'crew pilot tested');
    const { value, span } = given(tested, 'the day of the pilot’s last test or training ("tested")');
    const day = ask(flightDay, plan);
    if (daysBetween(day, value) > 0) {
      throw new NotAssessed(`the pilot’s test or training is dated ${sayDate(value)}, after the flight`);
    }
    const until = term.until(value);
    const left = daysBetween(day, until);
    const measured = { value: left, unit: 'days' as const };
    const limit = { value: 0, unit: 'days' as const, setBy: term.law };
    if (left >= 0) {
      yield { margin: { subject: 'the pilot’s test or training', at: span, measured, limit, room: left } };
      return;
    }
    yield {
      found: {
        at: span,
        subject: 'the pilot',
        message: `the pilot’s test or training of ${sayDate(value)} counts until ${sayDate(until)}, ${sayCount(-left, 'day')} before the flight of ${sayDate(day)}; ${term.law} lets it count for ${term.said}`,
        measured,
        limit,
      },
    };
  },
});

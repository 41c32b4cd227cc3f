import { lackingOnDay } from '../facts/due.ts';
import { given } from '../facts/fact.ts';
import type { Plan, RestrictionSource } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { endOfDay, sayDate, sayTime, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';

const HOUR = 3_600_000;

/** Restrictions that were looked up longer than this before take-off are of yesterday. Common practice, no source. */
const MOST_HOURS = 24;

interface Look {
  /** The earliest and the latest time at which it can have been. */
  readonly from: Instant;
  readonly at: Instant;
  readonly said: string;
}

/** When somebody looked; a date alone means any time of that day. Undefined where the plan does not say. */
const lookOf = (restrictions: RestrictionSource, offsetMinutes: number): Look | undefined => {
  if (restrictions.kind === 'notices') {
    const retrieved = restrictions.retrieved?.value;
    return retrieved && { from: retrieved.at, at: retrieved.at, said: sayTime(retrieved) };
  }
  const seen = restrictions.seen?.value;
  if (seen === undefined) return undefined;
  return 'time' in seen
    ? { from: seen.time.at, at: seen.time.at, said: sayTime(seen.time) }
    : {
        from: startOfDay(seen.date, offsetMinutes),
        at: endOfDay(seen.date, offsetMinutes),
        said: sayDate(seen.date),
      };
};

export default defineRule({
  visits: 'plan',
  title: 'nobody has looked up the temporary restrictions of the day',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A restriction can appear in the evening for the next morning. Who looked last week does not know of it.',
  condition:
    'The plan holds the notices that were found, with the time at which they were fetched, or the statement that there are none; from not more than 24 hours before the flight begins and not from after it. Before that time it is not yet due.',
  mend: 'Within 24 hours before the flight, look up the notices and restrictions of the place, and write what you found: `restrictions: { none-found: where you looked, seen: TIME, by: pilot }`, or `restrictions: { retrieved: TIME, notices: [...] }`.',
  sources: [
    { cite: '14 CFR 107.49(a)(2)', edition: '2026-01-01', trust: 'from memory', for: ['us-part-107'] },
    { cite: '49 U.S.C. 44809(a)(6)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
    { cite: 'the 24 hours', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: [],
  declarable: true,
  example: {
    faulty: 'restrictions: { none-found: notices of the area, seen: 2026-06-12, by: pilot }\n',
    sound: 'restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }\n',
  },

  *check(plan: Plan) {
    const { restrictions } = plan;
    if (restrictions === undefined) {
      throw lackingOnDay(plan, 'the plan says nothing about temporary restrictions and notices');
    }
    const from = given(plan.window?.from, 'the window').value;
    const look = lookOf(restrictions, from.offsetMinutes);
    if (look === undefined) {
      throw lackingOnDay(plan, 'when the temporary restrictions were looked up is missing or could not be read');
    }
    // Of a flight that is still to be flown it is told as dated ahead, and of one that is over, as that.
    if (look.from > Math.max(from.at, plan.window?.until?.value.at ?? from.at) && plan.flown !== undefined) {
      throw lackingOnDay(plan, `the temporary restrictions were looked up at ${look.said}, after the flight`);
    }
    if (look.at < from.at - MOST_HOURS * HOUR) {
      throw lackingOnDay(
        plan,
        `the temporary restrictions were looked up at ${look.said}, more than ${MOST_HOURS} hours before the flight begins`,
      );
    }
    if (restrictions.kind === 'notices') return;
    const { noneFound, by } = restrictions;
    if (noneFound === undefined || by === undefined) {
      throw lackingOnDay(plan, 'the statement about temporary restrictions needs none-found, seen and by');
    }
    yield {
      declared: {
        at: restrictions.span,
        because: `none found in ${noneFound.value}, looked up ${look.said} by ${by.value}`,
      },
    };
  },
});

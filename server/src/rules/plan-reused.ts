import { planDigest } from '../facts/plan-digest.ts';
import type { DateOrTime, Plan, Statement } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { type CalendarDate, dateAt, daysBetween, sayDate } from '../units/calendar.ts';
import { sayCount, sayList } from '../units/say.ts';

/** Days that a look at the site may be old. Common practice, no source; the house may ask for less. */
const STATEMENT_DAYS = 30;

const statementsOf = (plan: Plan): readonly Statement[] => [
  ...(plan.people === undefined ? [] : [plan.people]),
  ...(plan.obstacles?.kind === 'statement' ? [plan.obstacles] : []),
  ...plan.preflight,
];

const dayOf = (when: DateOrTime): CalendarDate =>
  'date' in when ? when.date : dateAt(when.time.at, when.time.offsetMinutes);

export default defineRule({
  visits: 'plan',
  title: 'statements in the plan were made for another flight',
  question: 'Is the plan of today?',
  level: 'caution',
  basis: 'practice',
  why: 'The plan of last month is the best draft for today, and the easiest way to fly on what somebody saw last month: the crane was not there yet, the meadow was empty.',
  condition:
    'Each statement of the crew (`seen`, `by`) is not older than 30 days on the day of the flight, is not dated after it, and, where it carries `of`, was made for this very plan: the digest covers route, window, aircraft and the editions of the data.',
  mend: 'Look again and write the new date. The fix writes the digest of this plan into statements that carry one; use it only after looking.',
  sources: [{ cite: 'age of a look at the site', edition: '1', trust: 'common practice, no source' }],
  needs: [],
  example: {
    faulty: 'people: { none-within: 150 m, seen: 2026-04-20, by: pilot }\n',
    sound: 'people: { none-within: 150 m, seen: 2026-06-12, by: pilot }\n',
  },

  *check(plan, { ask, settings }) {
    const from = plan.window?.from?.value;
    const until = plan.window?.until?.value ?? from;
    if (from === undefined || until === undefined) return;
    const day = dateAt(from.at, from.offsetMinutes);
    const lastDay = dateAt(until.at, until.offsetMinutes);
    const digest = ask(planDigest, plan);
    const house = settings.limits.statementAge?.value.value;
    const most = house === undefined ? STATEMENT_DAYS : Math.min(STATEMENT_DAYS, house / 86_400);
    const stale = statementsOf(plan).flatMap((statement) => {
      if (statement.of !== undefined && statement.of.value !== digest) {
        return [{ statement, at: statement.of.span, said: `${statement.key} (made for another plan)` }];
      }
      if (statement.seen === undefined) return [];
      const seen = dayOf(statement.seen.value);
      const age = daysBetween(seen, day);
      if (age <= most && daysBetween(seen, lastDay) >= 0) return [];
      return [{ statement, at: statement.seen.span, said: `${statement.key} (${sayDate(seen)})` }];
    });
    const [first, ...more] = stale;
    if (first === undefined) return;
    const toConfirm = stale.flatMap(({ statement }) =>
      statement.of === undefined || statement.of.value === digest ? [] : [statement.of.span],
    );
    yield {
      found: {
        at: first.at,
        subject: 'the statements',
        message: `the flight is on ${sayDate(day)}, but ${sayCount(stale.length, 'statement')} in the plan ${stale.length === 1 ? 'was' : 'were'} made for another: ${sayList(stale.map(({ said }) => said))}; ${house === undefined ? 'common practice' : 'the house'} takes at most ${sayCount(most, 'day')}`,
        related: more.map(({ at, said }) => ({ at, message: said })),
        fixes:
          toConfirm.length === 0
            ? []
            : [
                {
                  title: `After looking again: write "${digest}", the digest of this plan (was another)`,
                  effect: 'changes-flight',
                  edits: toConfirm.map((span) => ({ span, text: digest })),
                },
              ],
      },
    };
  },
});

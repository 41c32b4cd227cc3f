import { STATEMENT_DAYS } from '../facts/due.ts';
import { given } from '../facts/fact.ts';
import { planDigest } from '../facts/plan-digest.ts';
import type { DateOrTime, Plan, Statement } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { type CalendarDate, dateAt, daysBetween, sayDate, startOfDay } from '../units/calendar.ts';
import { sayCount, sayList } from '../units/say.ts';

const statementsOf = (plan: Plan): readonly Statement[] => [
  ...(plan.people === undefined ? [] : [plan.people]),
  ...(plan.obstacles?.kind === 'statement' ? [plan.obstacles] : []),
  ...plan.preflight,
  // How old a look at the notices may be is counted in hours, by a rule of its own; here it is for which plan it was made.
  ...(plan.restrictions?.kind === 'statement' ? [plan.restrictions] : []),
];

const dayOf = (when: DateOrTime): CalendarDate =>
  'date' in when ? when.date : dateAt(when.time.at, when.time.offsetMinutes);

interface Stale {
  readonly statement: Statement;
  readonly at: Span;
  readonly said: string;
  /** Days from the look to the flight, where that is what is wrong. */
  readonly age?: number;
}

export default defineRule({
  visits: 'plan',
  title: 'statements in the plan were made for another flight',
  question: 'Is the plan of today?',
  level: 'caution',
  basis: 'practice',
  why: 'The plan of last month is the best draft for today, and the easiest way to fly on what somebody saw last month: the crane was not there yet, the meadow was empty.',
  condition:
    'Each statement of the crew (`seen`, `by`) is not older than 30 days on the day of the flight, is not dated after it, and, where it carries `of`, was made for this very plan: the digest covers route, window, aircraft and the editions of the data. Statements, weather and the notices of the day are not in it: nobody looks again at a meadow because a notice came.',
  mend: 'Look again and write the new date. The fix writes the digest of this plan into statements that carry one; use it only after looking.',
  sources: [{ cite: 'age of a look at the site', edition: '1', trust: 'common practice, no source' }],
  needs: [],
  example: {
    faulty: 'people: { none-within: 150 m, seen: 2026-04-20, by: pilot }\n',
    sound: 'people: { none-within: 150 m, seen: 2026-06-12, by: pilot }\n',
  },

  *check(plan, { ask, settings, now }) {
    const statements = statementsOf(plan);
    if (statements.length === 0) return;
    const from = given(plan.window?.from, 'the beginning of the window').value;
    // A window that runs backwards is told as that; its end says nothing here.
    const end = plan.window?.until?.value;
    const until = end === undefined || end.at < from.at ? from : end;
    const day = dateAt(from.at, from.offsetMinutes);
    const lastDay = dateAt(until.at, until.offsetMinutes);
    const digest = ask(planDigest, plan);
    const house = settings.limits.statementAge?.value.value;
    const most = house === undefined ? STATEMENT_DAYS : Math.min(STATEMENT_DAYS, house / 86_400);
    const stale = statements.flatMap((statement): readonly Stale[] => {
      if (statement.of !== undefined && statement.of.value !== digest) {
        return [{ statement, at: statement.of.span, said: `${statement.key} (made for another plan)` }];
      }
      if (statement.seen === undefined || statement.key === 'restrictions') return [];
      const seen = dayOf(statement.seen.value);
      const age = daysBetween(seen, day);
      const at = statement.seen.span;
      // What is dated ahead of the check, too, is told as that.
      if (daysBetween(seen, lastDay) < 0 && plan.flown === undefined && now < startOfDay(seen, from.offsetMinutes))
        return [];
      if (daysBetween(seen, lastDay) < 0)
        return [{ statement, at, said: `${statement.key} (${sayDate(seen)}, after the flight)` }];
      if (age <= most) return [];
      return [{ statement, at, said: `${statement.key} (${sayDate(seen)}, ${sayCount(age, 'day')} before)`, age }];
    });
    const [first, ...more] = stale;
    if (first === undefined) return;
    const toConfirm = stale.flatMap(({ statement }) =>
      statement.of === undefined || statement.of.value === digest ? [] : [statement.of.span],
    );
    const ages = stale.flatMap(({ age }) => age ?? []);
    const setBy = house === undefined ? 'common practice' : 'the house (waywarden.settings.yaml)';
    yield {
      found: {
        at: first.at,
        subject: 'the statements',
        message: `the flight is on ${sayDate(day)}, but ${sayCount(stale.length, 'statement')} in the plan ${stale.length === 1 ? 'was' : 'were'} made for another: ${sayList(stale.map(({ said }) => said))}; ${house === undefined ? 'common practice' : 'the house'} takes at most ${sayCount(most, 'day')}`,
        ...(ages.length === stale.length && {
          measured: { value: Math.max(...ages), unit: 'days' as const },
          limit: { value: most, unit: 'days' as const, setBy },
        }),
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

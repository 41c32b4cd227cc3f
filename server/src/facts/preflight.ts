import type { DateOrTime, Plan, PreflightStatement } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { endOfDay, sayDate, sayTime, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import { lackingOnDay } from './due.ts';
import { given, NotAssessed } from './fact.ts';
import { requireRead } from './unread.ts';

/**
 * Words by which one preflight statement covers all that is looked at together, with what that is. The matrix still lists
 * each rule by itself.
 */
export const PREFLIGHT_GROUPS = {
  crew: 'the crew is fit, sober, old enough and briefed',
  aircraft: 'the aircraft is in order and marked, its links work, and what it carries is secure and harmless',
  traffic: 'how other aircraft are seen and given way to',
  guidelines: 'the safety guidelines of a community-based organisation are followed',
} as const;
export type PreflightGroup = keyof typeof PREFLIGHT_GROUPS;

/** What belongs to the day itself is stated at most so many hours before the flight. Common practice, no source. */
const MOST_HOURS = 24;
const HOUR = 3_600_000;

/** The latest time at which the look can have been: a date alone means any time of its day. */
const latest = (when: DateOrTime, offset: number): Instant =>
  'time' in when ? when.time.at : endOfDay(when.date, offset);
const earliest = (when: DateOrTime, offset: number): Instant =>
  'time' in when ? when.time.at : startOfDay(when.date, offset);
const sayWhen = (when: DateOrTime): string => ('time' in when ? sayTime(when.time) : sayDate(when.date));

/** What a rule rests on where a person has answered it. */
export interface Stated {
  readonly because: string;
  readonly at: Span;
}

interface Look {
  readonly statement: PreflightStatement;
  readonly when: DateOrTime;
  readonly by: string;
}

/** The statements that cover a rule by its own name or by the word of its group, and say when and by whom. */
const looksAt = (plan: Plan, rule: string, group: PreflightGroup): readonly Look[] =>
  plan.preflight.flatMap((statement) => {
    const { covers, seen, by } = statement;
    const isMeant = covers.some(({ value }) => value === rule || value === group);
    return isMeant && seen !== undefined && by !== undefined ? [{ statement, when: seen.value, by: by.value }] : [];
  });

const statedIn = ({ statement, when, by }: Look): Stated => ({
  at: statement.span,
  because: `stated by ${by} in preflight, ${sayWhen(when)}`,
});

const noLook = (plan: Plan, group: PreflightGroup): string =>
  plan.preflight.length === 0
    ? 'the plan has no preflight statement'
    : `no preflight statement of the plan covers "${group}" (${PREFLIGHT_GROUPS[group]})`;

/**
 * The preflight statement of the day that answers a rule: not more than 24 hours before the flight begins, and not from
 * after it. Without one the question is open, and due on the day.
 */
export const statedOnDay = (plan: Plan, rule: string, group: PreflightGroup): Stated => {
  const looks = looksAt(plan, rule, group);
  if (looks.length === 0) {
    requireRead(plan.slips, 'preflight');
    throw lackingOnDay(plan, noLook(plan, group));
  }
  const from = given(plan.window?.from, 'the window').value;
  const until = Math.max(from.at, plan.window?.until?.value.at ?? from.at);
  const inTime = looks.find(
    ({ when }) =>
      latest(when, from.offsetMinutes) >= from.at - MOST_HOURS * HOUR && earliest(when, from.offsetMinutes) <= until,
  );
  if (inTime !== undefined) return statedIn(inTime);
  const [first] = looks;
  const said = first === undefined ? '' : sayWhen(first.when);
  const isAfter = first !== undefined && earliest(first.when, from.offsetMinutes) > until;
  throw lackingOnDay(
    plan,
    isAfter
      ? `what preflight says of "${group}" was seen at ${said}, after the flight`
      : `what preflight says of "${group}" was seen at ${said}, more than ${MOST_HOURS} hours before the flight begins`,
  );
};

/** The preflight statement that answers a rule on any day before the flight. */
export const statedEver = (plan: Plan, rule: string, group: PreflightGroup): Stated => {
  const [first] = looksAt(plan, rule, group);
  if (first === undefined) {
    requireRead(plan.slips, 'preflight');
    throw new NotAssessed(noLook(plan, group));
  }
  return statedIn(first);
};

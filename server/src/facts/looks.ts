import type { DateOrTime, Plan } from '../plan/model.ts';
import type { Span, Written } from '../text/span.ts';
import {
  type CalendarDate,
  dateAt,
  daysBetween,
  daysInMonth,
  sayDate,
  sayTime,
  startOfDay,
} from '../units/calendar.ts';
import { type Instant, instant } from '../units/frames.ts';
import type { World } from '../world/world.ts';
import { retrievedOf } from './data-age.ts';
import { sourceReferences, sourcesBehind } from './sources-of-plan.ts';

/** Something the plan says has happened: somebody looked, fetched, gave leave, or passed a test. */
export interface Look {
  /** "people", "airspace zones.geojson" */
  readonly of: string;
  readonly span: Span;
  /** The earliest time that can be meant; of a date alone the beginning of its day. */
  readonly at: Instant;
  readonly said: string;
  /** The day as written, where it stands in the plan as a date or a time that can be mended. */
  readonly written?: { readonly date: CalendarDate; readonly digits: Span };
}

const lookOf = (of: string, when: Written<DateOrTime> | undefined, offset: number): readonly Look[] => {
  if (when === undefined) return [];
  const { value, span } = when;
  // The year stands first in every way of writing a date.
  const digits: Span = { anchor: span.anchor, from: span.from, to: span.from + 4 };
  if ('date' in value) {
    const { date } = value;
    return [{ of, span, at: startOfDay(date, offset), said: sayDate(date), written: { date, digits } }];
  }
  const { time } = value;
  return [
    { of, span, at: time.at, said: sayTime(time), written: { date: dateAt(time.at, time.offsetMinutes), digits } },
  ];
};

const onDay = (date: Written<CalendarDate> | undefined): Written<DateOrTime> | undefined =>
  date && { value: { date: date.value }, span: date.span };

/** When the ground's owner gave leave; one that is dated after the flight is told as such, by a rule of its own. */
const permissionBefore = ({ site, window }: Plan): Written<CalendarDate> | undefined => {
  const given = site.permission?.given;
  const end = (window?.until ?? window?.from)?.value;
  if (given === undefined || end === undefined) return given;
  return daysBetween(dateAt(end.at, end.offsetMinutes), given.value) > 0 ? undefined : given;
};

/** Everything in the plan that tells of the past, and the files that say when they were retrieved. */
export const looksOf = (plan: Plan, world: World): readonly Look[] => {
  const offset = plan.window?.from?.value.offsetMinutes ?? 0;
  const { people, obstacles, preflight, restrictions, crew } = plan;
  const retrieved = restrictions?.kind === 'notices' ? restrictions.retrieved : undefined;
  const stated = [
    lookOf('people', people?.seen, offset),
    lookOf('obstacles', obstacles?.kind === 'statement' ? obstacles.seen : undefined, offset),
    ...preflight.map(({ seen }) => lookOf('preflight', seen, offset)),
    lookOf('restrictions', restrictions?.kind === 'statement' ? restrictions.seen : undefined, offset),
    lookOf('restrictions', retrieved && { value: { time: retrieved.value }, span: retrieved.span }, offset),
    lookOf('permission', onDay(permissionBefore(plan)), offset),
    ...(obstacles?.kind === 'list' ? obstacles.requests : []).map(({ given }) =>
      lookOf('request for a structure', onDay(given), offset),
    ),
    ...[crew.pilot, ...crew.observers].map((member) =>
      lookOf(`test of the ${member?.role ?? ''}`, onDay(member?.tested), offset),
    ),
  ].flat();
  const files = sourceReferences(plan).flatMap(({ kind, reference }) =>
    sourcesBehind(reference.value, world).flatMap((source): readonly Look[] => {
      const at = retrievedOf(source);
      return at === undefined
        ? []
        : [{ of: `${kind} "${source.name}"`, span: reference.span, at, said: sayTime({ at, offsetMinutes: offset }) }];
    }),
  );
  return [...stated, ...files];
};

/** Clocks differ, and who writes by hand rounds up to the next five minutes. Common practice, no source. */
const SLACK_MS = 5 * 60_000;

export const isAhead = ({ at }: Pick<Look, 'at'>, now: Instant): boolean => at > now + SLACK_MS;

/** A look this long ago can be meant where only the year is wrong. Common practice, no source. */
const RECENT_DAYS = 60;

/** The year that would put a look not long before the check, where the one written does not: "2026" for "2027". */
export const yearMeant = ({ at, written }: Look, now: Instant): number | undefined => {
  if (written === undefined) return undefined;
  const { year, month, day } = written.date;
  // The day of the leap year is in no other.
  if (day > daysInMonth(year - 1, month)) return undefined;
  const moved = instant(at + startOfDay({ ...written.date, year: year - 1 }, 0) - startOfDay(written.date, 0));
  return moved <= now && now - moved <= RECENT_DAYS * 86_400_000 ? year - 1 : undefined;
};

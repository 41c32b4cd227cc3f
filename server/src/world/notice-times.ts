import { type CalendarDate, dateOfDays, daysInMonth, daysSince1970, startOfDay } from '../units/calendar.ts';
import { type Instant, instant, seconds } from '../units/frames.ts';
import { type ActiveTime, type DayMoment, WEEKDAYS, type Weekday, type WeeklyTime } from './zone.ts';

const MINUTE = 60_000;

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];

/** A date-time group of ten digits, in UTC: `2606140600` (ICAO Annex 15, from memory). Undefined where it is none. */
export const readGroup = (text: string): Instant | undefined => {
  const match = /^(\d{2})(\d{2})(\d{2})(\d{2})(\d{2})$/.exec(text);
  if (match === null) return undefined;
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0] = match.slice(1).map(Number);
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(2000 + year, month)) return undefined;
  const clock = clockOf(hour, minute);
  if (clock === undefined) return undefined;
  return instant(startOfDay({ year: 2000 + year, month, day }, 0) + clock * MINUTE);
};

/** Minutes from 00:00 to 24:00. */
const clockOf = (hour: number, minute: number): number | undefined =>
  hour > 24 || minute > 59 || (hour === 24 && minute > 0) ? undefined : hour * 60 + minute;

interface Hours {
  readonly from: DayMoment;
  readonly until: DayMoment;
}

const SUN: Readonly<Record<string, DayMoment>> = { SR: { event: 'sunrise' }, SS: { event: 'sunset' } };

const momentOf = (text: string): DayMoment | undefined => {
  const sun = SUN[text];
  if (sun !== undefined) return sun;
  const clock = /^\d{4}$/.test(text) ? clockOf(Number(text.slice(0, 2)), Number(text.slice(2))) : undefined;
  return clock === undefined ? undefined : { clock: seconds(clock * 60), offsetMinutes: 0 };
};

const hoursOf = (text: string): Hours | undefined => {
  const [from, until] = text.split('-').map(momentOf);
  return from === undefined || until === undefined ? undefined : { from, until };
};

const weekdaysOf = (text: string): readonly Weekday[] | undefined => {
  const [first, last, ...more] = text.split('-').map((day) => WEEKDAYS.indexOf(day as Weekday));
  if (first === undefined || first < 0 || more.length > 0) return undefined;
  if (last === undefined) return WEEKDAYS.slice(first, first + 1);
  if (last < 0) return undefined;
  const length = ((last - first + 7) % 7) + 1;
  return Array.from({ length }, (_, i) => WEEKDAYS[(first + i) % 7] ?? 'MON');
};

const HOURS = /^(\d{4}|SR|SS)-(\d{4}|SR|SS)$/;

/** One entry of a schedule: days, then hours. `MON-FRI 0600-1800`, `DAILY 0600-1800`, `JUN 14-16 0600-1800`, `H24`. */
const readEntry = (entry: string, begins: Instant, ends: Instant | undefined): readonly ActiveTime[] | undefined => {
  const words = entry.split(' ').filter((word) => word !== '');
  const hours: Hours[] = [];
  while (words.length > 0) {
    const last = words[words.length - 1] ?? '';
    if (last === 'H24')
      hours.unshift({
        from: { clock: seconds(0), offsetMinutes: 0 },
        until: { clock: seconds(86_400), offsetMinutes: 0 },
      });
    else if (last === 'AND') {
      words.pop();
      continue;
    } else {
      const read = HOURS.test(last) ? hoursOf(last) : undefined;
      if (read === undefined) break;
      hours.unshift(read);
    }
    words.pop();
  }
  if (hours.length === 0) return undefined;
  const [first] = words;
  const limits = { from: begins, ...(ends === undefined ? {} : { until: ends }) };
  const weekly = (days: readonly Weekday[]): readonly ActiveTime[] => [
    { ...limits, weekly: hours.map((span): WeeklyTime => ({ days, ...span })) },
  ];
  if (first === undefined || (words.length === 1 && (first === 'DAILY' || first === 'DLY'))) return weekly(WEEKDAYS);
  const days = words.map(weekdaysOf);
  if (days.every((day) => day !== undefined)) return weekly(days.flatMap((day) => day ?? []));
  return readDates(words, begins, ends)?.flatMap((date) => {
    // A date is a period of one day, so that hours past midnight and the sun are worked out in one place.
    const start = startOfDay(date, 0);
    const day = WEEKDAYS[(((daysSince1970(date) + 3) % 7) + 7) % 7] ?? 'MON';
    return [
      {
        from: instant(Math.max(begins, start)),
        until: instant(Math.min(ends ?? Number.POSITIVE_INFINITY, start + 2 * 86_400_000)),
        weekly: hours.map((span): WeeklyTime => ({ days: [day], ...span })),
      },
    ];
  });
};

/** `JUN 14 16-18`, or days alone where the notice lies within one month. */
const readDates = (
  words: readonly string[],
  begins: Instant,
  ends: Instant | undefined,
): readonly CalendarDate[] | undefined => {
  const first = dateOfDays(Math.floor(begins / 86_400_000));
  const last = ends === undefined ? undefined : dateOfDays(Math.floor(ends / 86_400_000));
  let { year, month } = first;
  let isTold = last !== undefined && last.year === first.year && last.month === first.month;
  const dates: CalendarDate[] = [];
  for (const word of words) {
    const named = MONTHS.indexOf(word) + 1;
    if (named > 0) {
      year = named < first.month ? first.year + 1 : first.year;
      month = named;
      isTold = true;
      continue;
    }
    const match = /^(\d{2})(?:-(\d{2}))?$/.exec(word);
    if (match === null || !isTold) return undefined;
    const from = Number(match[1]);
    const to = Number(match[2] ?? match[1]);
    if (from < 1 || to < from || to > daysInMonth(year, month)) return undefined;
    for (let day = from; day <= to; day++) dates.push({ year, month, day });
  }
  return dates.length === 0 ? undefined : dates;
};

/**
 * The schedule of a D) field within the times of B) and C), in UTC; undefined where any part of it could not be read, so
 * that nothing is taken for asleep by half a schedule.
 */
export const readSchedule = (
  text: string,
  begins: Instant,
  ends: Instant | undefined,
): readonly ActiveTime[] | undefined => {
  const entries = text
    .toUpperCase()
    .replace(/\s+/g, ' ')
    .split(/[,;]/)
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');
  const read = entries.map((entry) => readEntry(entry, begins, ends));
  return read.length > 0 && read.every((times) => times !== undefined)
    ? read.flatMap((times) => times ?? [])
    : undefined;
};

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

const SUN = { SR: 'sunrise', SS: 'sunset' } as const;

/** `0600`, `SR`, `SS`, and those with minutes before or after: `SR MINUS 30` is written `SRM30` by then. */
const MOMENT = String.raw`\d{4}|S[RS](?:[PM]\d{1,3})?`;

const momentOf = (text: string): DayMoment | undefined => {
  const [, event, sign, minutes = '0'] = /^(S[RS])(?:([PM])(\d+))?$/.exec(text) ?? [];
  if (event === 'SR' || event === 'SS') {
    const shift = (sign === 'M' ? -60 : 60) * Number(minutes);
    return { event: SUN[event], ...(shift === 0 ? {} : { shift: seconds(shift) }) };
  }
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

const HOURS = new RegExp(`^(?:${MOMENT})-(?:${MOMENT})$`);

/** Abbreviations for hours, ICAO Doc 8400 (from memory): by day, by night, day and night. */
const NAMED: Readonly<Record<string, string>> = { HJ: 'SR-SS', HN: 'SS-SR', H24: '0000-2400' };

/** Days of an entry, by weekday or by date. */
type Days = { readonly weekdays: readonly Weekday[] } | { readonly dates: readonly CalendarDate[] };

const daysOf = (words: readonly string[], begins: Instant, ends: Instant | undefined): Days | undefined => {
  const weekdays = words.map(weekdaysOf);
  if (weekdays.every((day) => day !== undefined)) return { weekdays: weekdays.flatMap((day) => day ?? []) };
  const dates = readDates(words, begins, ends);
  return dates && { dates };
};

/** The hours at the end of an entry's words, which are taken off them. */
const takeHours = (words: string[]): readonly Hours[] => {
  const hours: Hours[] = [];
  for (let last = words[words.length - 1]; last !== undefined; last = words[words.length - 1]) {
    if (last !== 'AND') {
      const written = NAMED[last] ?? last;
      const read = HOURS.test(written) ? hoursOf(written) : undefined;
      if (read === undefined) break;
      hours.unshift(read);
    }
    words.pop();
  }
  return hours;
};

/**
 * The words of an entry without the days after EXC, and these. EXC stands at the end, or before the hours:
 * `DAILY 0600-1800 EXC SAT SUN`, `MON-FRI EXC WED 0600-1800`.
 */
const takeExceptions = (words: string[]): readonly string[] | undefined => {
  const at = words.findIndex((word) => /^EXC(?:EPT|L)?$/.test(word));
  if (at < 0) return [];
  const isHours = (word: string): boolean => HOURS.test(word) || word in NAMED;
  const end = words.findIndex((word, i) => i > at && isHours(word));
  // Hours after it, too, are those of the exception, and what then holds is not known.
  if (end >= 0 && words.slice(0, at).some(isHours)) return undefined;
  const excepted = words.splice(at, (end < 0 ? words.length : end) - at).slice(1);
  const days = excepted.filter((word) => word !== 'AND');
  return days.length === 0 || words.some((word) => /^EXC/.test(word)) ? undefined : days;
};

/** One entry of a schedule: days, then hours. `MON-FRI 0600-1800`, `DAILY 0600-1800`, `JUN 14-16 0600-1800`, `H24`. */
const readEntry = (entry: string, begins: Instant, ends: Instant | undefined): readonly ActiveTime[] | undefined => {
  const words = entry.split(' ').filter((word) => word !== '');
  const excepted = takeExceptions(words);
  if (excepted === undefined) return undefined;
  const not = excepted.length === 0 ? { dates: [] } : daysOf(excepted, begins, ends);
  const hours = takeHours(words);
  if (not === undefined || hours.length === 0) return undefined;
  const isDaily = words.length === 0 || (words.length === 1 && (words[0] === 'DAILY' || words[0] === 'DLY'));
  const days: Days | undefined = isDaily ? { weekdays: WEEKDAYS } : daysOf(words, begins, ends);
  if (days === undefined) return undefined;
  const stays = (day: Weekday): boolean => !('weekdays' in not && not.weekdays.includes(day));
  if ('weekdays' in days) {
    const except = 'dates' in not && not.dates.length > 0 ? { except: not.dates } : {};
    const weekdays = days.weekdays.filter(stays);
    const limits = { from: begins, ...(ends === undefined ? {} : { until: ends }) };
    return [{ ...limits, weekly: hours.map((span): WeeklyTime => ({ days: weekdays, ...except, ...span })) }];
  }
  const struck = new Set('dates' in not ? not.dates.map(daysSince1970) : []);
  return days.dates.flatMap((date) => {
    // A date is a period of one day, so that hours past midnight and the sun are worked out in one place.
    const start = startOfDay(date, 0);
    const day = WEEKDAYS[(((daysSince1970(date) + 3) % 7) + 7) % 7] ?? 'MON';
    if (struck.has(daysSince1970(date)) || !stays(day)) return [];
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
    .replace(
      /\b(S[RS]) ?(PLUS|MINUS) ?(\d{1,3})(?: ?MIN)?\b/g,
      (_, event, way, minutes) => `${event}${way.charAt(0)}${minutes}`,
    )
    .replace(/ ?- ?/g, '-')
    .split(/[,;]/)
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');
  const read = entries.map((entry) => readEntry(entry, begins, ends));
  return read.length > 0 && read.every((times) => times !== undefined)
    ? read.flatMap((times) => times ?? [])
    : undefined;
};

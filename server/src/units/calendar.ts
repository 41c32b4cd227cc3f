import { type Instant, instant } from './frames.ts';

/** A day of the proleptic Gregorian calendar; month 1-12. */
export interface CalendarDate {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

/** An instant and the offset from UTC (minutes, east positive) in which it was written. */
export interface ZonedTime {
  readonly at: Instant;
  readonly offsetMinutes: number;
}

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

export const daysInMonth = (year: number, month: number): number => {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
};

/** Days from 1970-01-01 to a date. Years are counted from March so that the leap day comes last. */
export const daysSince1970 = ({ year, month, day }: CalendarDate): number => {
  const y = month > 2 ? year : year - 1;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
};

/** The date that lies a number of days after 1970-01-01. */
export const dateOfDays = (days: number): CalendarDate => {
  const z = days + 719_468;
  const era = Math.floor(z / 146_097);
  const dayOfEra = z - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shifted = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * shifted + 2) / 5) + 1;
  const month = shifted < 10 ? shifted + 3 : shifted - 9;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day };
};

/** 00:00 of a date at an offset. */
export const startOfDay = (date: CalendarDate, offsetMinutes: number): Instant =>
  instant(daysSince1970(date) * DAY_MS - offsetMinutes * MINUTE_MS);

/** 24:00 of a date at an offset: a paper valid "until 30 June" is valid through that day. */
export const endOfDay = (date: CalendarDate, offsetMinutes: number): Instant =>
  instant((daysSince1970(date) + 1) * DAY_MS - offsetMinutes * MINUTE_MS);

/** The date on which an instant falls at an offset. */
export const dateAt = (at: Instant, offsetMinutes: number): CalendarDate =>
  dateOfDays(Math.floor((at + offsetMinutes * MINUTE_MS) / DAY_MS));

/** Days from one date to a later one; negative when it is earlier. */
export const daysBetween = (from: CalendarDate, to: CalendarDate): number => daysSince1970(to) - daysSince1970(from);

const two = (n: number): string => String(n).padStart(2, '0');

/** `2026-06-14` */
export const sayDate = ({ year, month, day }: CalendarDate): string =>
  `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;

/** `-07:00`, `Z` for UTC */
export const sayOffset = (offsetMinutes: number): string => {
  if (offsetMinutes === 0) return 'Z';
  const size = Math.abs(offsetMinutes);
  return `${offsetMinutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
};

const sayClock = (at: Instant, offsetMinutes: number): string => {
  const local = at + offsetMinutes * MINUTE_MS;
  const minutes = Math.floor(local / MINUTE_MS) - Math.floor(local / DAY_MS) * 1440;
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
};

/** `2026-06-14 06:40 -07:00` */
export const sayTime = ({ at, offsetMinutes }: ZonedTime): string =>
  `${sayDate(dateAt(at, offsetMinutes))} ${sayClock(at, offsetMinutes)} ${sayOffset(offsetMinutes)}`;

/** Plan time and UTC: `2026-06-14 06:40 -07:00 (13:40 UTC)`; the UTC date is given where it differs. */
export const sayTimeAndUtc = (time: ZonedTime): string => {
  if (time.offsetMinutes === 0) return sayTime(time).replace(/Z$/, 'UTC');
  const there = sayDate(dateAt(time.at, time.offsetMinutes));
  const utc = sayDate(dateAt(time.at, 0));
  return `${sayTime(time)} (${there === utc ? '' : `${utc} `}${sayClock(time.at, 0)} UTC)`;
};

/** RFC 3339 in UTC with seconds, for machines: `2026-06-14T13:40:00Z` */
export const sayRfc3339 = (at: Instant): string => {
  const s = Math.floor(at / 1000) - Math.floor(at / MINUTE_MS) * 60;
  return `${sayDate(dateAt(at, 0))}T${sayClock(at, 0)}:${two(s)}Z`;
};

/**
 * The last day of the month that lies a number of months after a date: how calendar months are counted in 14 CFR 107.65.
 * What was done on any day of November 2024 counts until 30 November 2026.
 */
export const lastDayAfterMonths = ({ year, month }: CalendarDate, months: number): CalendarDate => {
  const counted = year * 12 + (month - 1) + months;
  const [lastYear, lastMonth] = [Math.floor(counted / 12), (counted % 12) + 1];
  return { year: lastYear, month: lastMonth, day: daysInMonth(lastYear, lastMonth) };
};

/** The same day a number of years later; 28 February where that year has no 29th. */
export const yearsAfter = ({ year, month, day }: CalendarDate, years: number): CalendarDate => ({
  year: year + years,
  month,
  day: Math.min(day, daysInMonth(year + years, month)),
});

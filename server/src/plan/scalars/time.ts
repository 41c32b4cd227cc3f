import { type CalendarDate, daysInMonth, sayDate, startOfDay, type ZonedTime } from '../../units/calendar.ts';
import { instant } from '../../units/frames.ts';
import type { DateOrTime } from '../model.ts';
import { type Reading, type Refusal, refuse, tidyBlanks } from './reading.ts';
import { mendDate, mendTime } from './time-mending.ts';

/**
 * Dates and times in the forms of ISO 8601 and RFC 3339, with a blank allowed for the `T`. Offsets from UTC are in use
 * from -12:00 to +14:00 (from memory).
 */
const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
const TIME =
  /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}(?:\.\d{1,9})?))? ?(?:(z|utc)|([+\-\u2212])(\d{2})(?::?(\d{2}))?)?$/i;
const STARTS_WITH_DATE = /^(\d{4}-\d{2}-\d{2})(?!\d)(.*)$/s;
const STARTS_WITH_CLOCK = /^[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?![\d:]) ?(.*)$/is;
const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;
const EARLIEST_OFFSET = -12 * 60;
const LATEST_OFFSET = 14 * 60;

const DATE_FORM = 'a date is written year-month-day, such as 2026-06-14';

/** Reads `2026-06-14`. */
export const readDate = (text: string): Reading<{ readonly value: CalendarDate }> => {
  const tidy = tidyBlanks(text);
  const date = dateOf(tidy);
  if (typeof date !== 'string') return { ok: true, value: date };
  const [, day = tidy, more = ''] = STARTS_WITH_DATE.exec(tidy) ?? [];
  if (more === '') return unreadable(text, date, isDate, mendDate(tidy));
  return unreadable(text, 'only a date is wanted here, without a time of day', isDate, day);
};

/** Reads `2026-06-14 06:40 -07:00`, with `T` or a blank, seconds or none, and `Z`, `-07:00`, `-0700` or `-07`. */
export const readTime = (text: string): Reading<{ readonly value: ZonedTime }> => {
  const tidy = tidyBlanks(text);
  const [all, day = '', hours = '', minutes = '', seconds = '0', utc, sign, offsetHours, offsetMinutes = '00'] =
    TIME.exec(tidy) ?? [];
  if (all === undefined) return unreadable(text, faultOf(tidy), isTime, mendTime(tidy));
  const date = dateOf(day);
  if (typeof date === 'string') return unreadable(text, date, isTime);
  const clock = millisecondsOf(hours, minutes, seconds);
  if (typeof clock === 'string') return unreadable(text, clock, isTime);
  if (utc === undefined && offsetHours === undefined) return unreadable(text, NO_OFFSET, isTime);
  const offset = utc === undefined ? offsetOf(sign === '+' ? 1 : -1, offsetHours ?? '', offsetMinutes) : 0;
  if (typeof offset === 'string') return unreadable(text, offset, isTime);
  return { ok: true, value: { at: instant(startOfDay(date, offset) + clock), offsetMinutes: offset } };
};

/** Reads a date alone, or a time where the text goes on after the date. */
export const readDateOrTime = (text: string): Reading<{ readonly value: DateOrTime }> => {
  const tidy = tidyBlanks(text);
  if (DATE.test(tidy) || mendDate(tidy) !== undefined) {
    const date = readDate(text);
    return date.ok ? { ok: true, value: { date: date.value } } : date;
  }
  const time = readTime(text);
  return time.ok ? { ok: true, value: { time: time.value } } : time;
};

const isDate = (text: string): boolean => typeof dateOf(text) !== 'string';
const isTime = (text: string): boolean => TIME.test(text) && readTime(text).ok;

/** A mended text goes along only when it can be read. */
const unreadable = (text: string, reason: string, isGood: (text: string) => boolean, mended?: string): Refusal =>
  refuse({ kind: 'time-unreadable', text, reason, ...(mended !== undefined && isGood(mended) ? { mended } : {}) });

/** The date, or why there is none such. */
const dateOf = (text: string): CalendarDate | string => {
  const [, y, m = '', d = ''] = DATE.exec(text) ?? [];
  if (y === undefined) return DATE_FORM;
  const [year, month, day] = [Number(y), Number(m), Number(d)];
  if (year < FIRST_YEAR || year > LAST_YEAR) return `the year ${y} lies outside ${FIRST_YEAR} to ${LAST_YEAR}`;
  if (month < 1 || month > 12) return `there is no month ${m}`;
  const days = daysInMonth(year, month);
  if (day < 1 || day > days) return `there is no ${sayDate({ year, month, day })}; that month has ${days} days`;
  return { year, month, day };
};

/** Milliseconds since the start of the day, or why there are none. 24:00 is the end of the day. */
const millisecondsOf = (hours: string, minutes: string, seconds: string): number | string => {
  const milliseconds = (Number(hours) * 60 + Number(minutes)) * 60_000 + Math.round(Number(seconds) * 1000);
  if (Number(hours) > 24) return `there is no hour ${hours}`;
  if (Number(minutes) > 59) return `there is no minute ${minutes}`;
  if (Number(seconds) >= 60) return `there is no second ${seconds}`;
  if (milliseconds > 86_400_000) return 'the day ends at 24:00';
  return milliseconds;
};

const NO_OFFSET = 'the offset from UTC is missing, such as -07:00, or Z for UTC';

/** Minutes east of UTC, or why there are none. */
const offsetOf = (sign: 1 | -1, hours: string, minutes: string): number | string => {
  const offset = sign * (Number(hours) * 60 + Number(minutes));
  if (Number(minutes) > 59) return `an offset from UTC has no ${minutes} minutes`;
  if (offset >= EARLIEST_OFFSET && offset <= LATEST_OFFSET) return offset === 0 ? 0 : offset;
  return 'offsets from UTC lie between -12:00 and +14:00';
};

/** What is wrong with a text that has not the form of a time. */
const faultOf = (tidy: string): string => {
  const [, day, more = ''] = STARTS_WITH_DATE.exec(tidy) ?? [];
  if (day === undefined) return DATE_FORM;
  const date = dateOf(day);
  if (typeof date === 'string') return date;
  if (more === '') return 'the time of day and the offset from UTC are missing, such as 06:40 -07:00';
  const [, zone] = STARTS_WITH_CLOCK.exec(more) ?? [];
  if (zone === undefined) return 'a time of day is written with two digits each for hours and minutes, such as 06:40';
  return zone === '' ? NO_OFFSET : `"${zone}" is not an offset from UTC such as -07:00, or Z for UTC`;
};

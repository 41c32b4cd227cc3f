import { dateAt, daysInMonth, daysSince1970 } from '../units/calendar.ts';
import { type Instant, instant } from '../units/frames.ts';
import type { DaySpan, DayTime } from '../world/weather-report.ts';

const MINUTE = 60_000;
const DAY = 1440 * MINUTE;

export interface TimeSpan {
  readonly from: Instant;
  readonly until: Instant;
}

/**
 * The time that a report means by a day of a month which it does not name: the one nearest to a time that is known. A
 * month without that day is passed over.
 */
export const timeNear = ({ day, minutes }: DayTime, known: Instant): Instant => {
  const { year, month } = dateAt(known, 0);
  let best = known;
  let least = Number.POSITIVE_INFINITY;
  for (let shift = -2; shift <= 2; shift++) {
    const months = year * 12 + month - 1 + shift;
    const date = { year: Math.floor(months / 12), month: (months % 12) + 1, day };
    if (day > daysInMonth(date.year, date.month)) continue;
    const at = daysSince1970(date) * DAY + minutes * MINUTE;
    if (Math.abs(at - known) >= least) continue;
    least = Math.abs(at - known);
    best = instant(at);
  }
  return best;
};

/** The hours of a forecast, or of a change in it, near a known time; undefined where they run backwards. */
export const hoursNear = ({ from, until }: DaySpan, known: Instant): TimeSpan | undefined => {
  const start = timeNear(from, known);
  const end = timeNear(until, start);
  return end > start ? { from: start, until: end } : undefined;
};

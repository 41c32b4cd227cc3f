import { CIVIL_TWILIGHT_ALTITUDE, SUNRISE_ALTITUDE, sunAltitude, sunCrossings } from '../geo/sun.ts';
import { type CalendarDate, dateOfDays, daysSince1970, startOfDay } from '../units/calendar.ts';
import { type Instant, instant, type LonLat } from '../units/frames.ts';
import { type DayMoment, type SunEvent, WEEKDAYS, type WeeklyTime } from '../world/zone.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Tables of the sun are printed to the minute, so an event counts from a minute before to a minute after. */
const ROUNDING = 60_000;

/** 1970-01-01 was a Thursday. */
const weekdayOf = (date: CalendarDate): (typeof WEEKDAYS)[number] => {
  const index = (((daysSince1970(date) + 3) % 7) + 7) % 7;
  return WEEKDAYS[index] ?? 'MON';
};

/**
 * When an event of the sun happens at a place on a date. Where it does not happen, the sun counts as rising at the start
 * of a day in which it stays up and at the end of one in which it stays down, and as setting the other way round: then
 * "sunrise to sunset" is the whole day or nothing, and "sunset to sunrise" nothing or the whole night.
 */
const sunAt = (event: SunEvent, date: CalendarDate, at: LonLat): Instant => {
  const altitude = event === 'sunrise' || event === 'sunset' ? SUNRISE_ALTITUDE : CIVIL_TWILIGHT_ALTITUDE;
  const isMorning = event === 'sunrise' || event === 'morning twilight';
  const midnight = startOfDay(date, at.lon * 4);
  const noon = instant(midnight + 12 * HOUR);
  // The sun's own midnight strays from the mean one by up to 17 minutes.
  const [from, until] = isMorning ? [instant(noon - 13 * HOUR), noon] : [noon, instant(noon + 13 * HOUR)];
  const crossings = [...sunCrossings(at, altitude, from, until)].filter(
    ({ direction }) => direction === (isMorning ? 'up' : 'down'),
  );
  const crossing = isMorning ? crossings[crossings.length - 1] : crossings[0];
  if (crossing !== undefined) return crossing.at;
  const staysUp = sunAltitude(noon, at) > altitude;
  return staysUp === isMorning ? midnight : instant(midnight + DAY);
};

const momentOn = (moment: DayMoment, date: CalendarDate, at: LonLat, local: number): Instant => {
  if ('event' in moment) return instant(sunAt(moment.event, date, at) + (moment.shift ?? 0) * 1000);
  const offset = moment.offsetMinutes === 'local' ? local : moment.offsetMinutes;
  return instant(startOfDay(date, offset) + moment.clock * 1000);
};

const slackOf = (moment: DayMoment): number => ('event' in moment ? ROUNDING : 0);

/** From and until of an entry that begins on a date; undefined where it then has no length. */
const spanOn = (
  { from, until }: WeeklyTime,
  date: CalendarDate,
  at: LonLat,
  local: number,
): { readonly from: number; readonly until: number } | undefined => {
  const start = momentOn(from, date, at, local);
  let end = momentOn(until, date, at, local);
  if (end <= start) end = momentOn(until, dateOfDays(daysSince1970(date) + 1), at, local);
  return end <= start ? undefined : { from: start - slackOf(from), until: end + slackOf(until) };
};

const isExcepted = ({ except }: WeeklyTime, date: CalendarDate): boolean =>
  except?.some((each) => daysSince1970(each) === daysSince1970(date)) === true;

/** More days than these hold every weekday and every sunrise that there will be. */
const MOST_DAYS = 400;

/** Whether a weekly time falls at a place into a span of time. `local` is the offset of clocks there, in minutes. */
export const isWithinHours = (
  weekly: WeeklyTime,
  from: Instant,
  until: Instant,
  at: LonLat,
  local: number,
): boolean => {
  const first = Math.floor(from / DAY) - 2;
  const last = Math.min(Math.floor(until / DAY) + 1, first + MOST_DAYS);
  for (let day = first; day <= last; day++) {
    const date = dateOfDays(day);
    if (!weekly.days.includes(weekdayOf(date)) || isExcepted(weekly, date)) continue;
    const span = spanOn(weekly, date, at, local);
    if (span !== undefined && span.from < until && from < span.until) return true;
  }
  return false;
};

export const dependsOnLocalClock = ({ from, until }: WeeklyTime): boolean =>
  [from, until].some((moment) => 'clock' in moment && moment.offsetMinutes === 'local');

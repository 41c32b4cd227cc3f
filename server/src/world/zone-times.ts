import { readTime } from '../plan/scalars/time.ts';
import { seconds } from '../units/frames.ts';
import { isList, isObject, type Json, type JsonObject, Unusable } from './geojson-features.ts';
import {
  type ActivePeriod,
  type ActiveTime,
  type DayMoment,
  type SunEvent,
  WEEKDAYS,
  type Weekday,
  type WeeklyTime,
} from './zone.ts';

const SUN_EVENTS: readonly SunEvent[] = ['sunrise', 'sunset', 'morning twilight', 'evening twilight'];

/** `07:30`, `24:00`; seconds of the day, or undefined. */
export const readClock = (text: string): number | undefined => {
  const [, hours, minutes, fraction = '0'] = /^(\d{2}):?(\d{2})(?::(\d{2})(?:\.\d+)?)?$/.exec(text) ?? [];
  if (hours === undefined || Number(minutes) > 59 || Number(fraction) > 59) return undefined;
  const total = (Number(hours) * 60 + Number(minutes)) * 60 + Number(fraction);
  return total <= 86_400 ? total : undefined;
};

/** Minutes east of UTC of `UTC`, `Z`, `+02:00`, or `local`. */
export const readOffset = (text: string): number | 'local' | undefined => {
  if (text === 'local') return 'local';
  if (/^(?:utc|z)$/i.test(text)) return 0;
  const [, sign, hours, minutes = '00'] = /^([+-])(\d{2}):?(\d{2})?$/.exec(text) ?? [];
  if (sign === undefined || Number(minutes) > 59) return undefined;
  const offset = (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes));
  return offset >= -12 * 60 && offset <= 14 * 60 ? offset : undefined;
};

/** `MON`, any case, whole words too; every day for `ANY` and `daily`. */
const readDays = (value: Json | undefined): readonly Weekday[] => {
  const days = (isList(value) ? value : [value]).flatMap((entry): readonly Weekday[] => {
    const word = typeof entry === 'string' ? entry.trim().toUpperCase() : '';
    if (word === 'ANY' || word === 'DAILY') return WEEKDAYS;
    const day = WEEKDAYS.find((known) => word.startsWith(known));
    if (day === undefined) throw new Unusable('has times of activity on a day that is none of MON to SUN');
    return [day];
  });
  if (days.length === 0) throw new Unusable('has times of activity without a day');
  return WEEKDAYS.filter((day) => days.includes(day));
};

const readMoment = (written: Json | undefined, offsetMinutes: number | 'local'): DayMoment => {
  const text = typeof written === 'string' ? written.trim().toLowerCase() : '';
  const event = SUN_EVENTS.find((known) => known === text);
  if (event !== undefined) return { event };
  const clock = readClock(text);
  if (clock === undefined) {
    throw new Unusable(
      'has a time of day that could not be read; write it as in "07:30", or as sunrise, sunset, morning twilight or evening twilight',
    );
  }
  return { clock: seconds(clock), offsetMinutes };
};

const isClock = (moment: DayMoment): boolean => 'clock' in moment;

const readWeekly = (entry: JsonObject): WeeklyTime => {
  const told = typeof entry.clock === 'string' ? readOffset(entry.clock.trim()) : undefined;
  const from = readMoment(entry.from, told ?? 'local');
  const until = readMoment(entry.until, told ?? 'local');
  if (told === undefined && (isClock(from) || isClock(until) || entry.clock !== undefined)) {
    throw new Unusable('has a time of day without "clock": UTC, local, or an offset such as +02:00');
  }
  return { days: readDays(entry.days), from, until };
};

/** A start or an end with its offset; undefined where none is given. */
const readInstant = (written: Json | undefined): ActivePeriod['from'] => {
  if (written === undefined || written === null) return undefined;
  const read = typeof written === 'string' ? readTime(written) : undefined;
  if (read?.ok !== true) {
    throw new Unusable('has a time of activity that could not be read; write it as in "2026-06-14 06:40 -07:00"');
  }
  return read.value.at;
};

/** A period between two ends, at least one of which has to be given. */
export const periodOf = (
  from: ActivePeriod['from'],
  until: ActivePeriod['until'],
  weekly?: readonly WeeklyTime[],
): ActivePeriod => {
  if (from !== undefined && until !== undefined && from >= until) {
    throw new Unusable('has a time of activity that ends before it starts');
  }
  return {
    ...(from === undefined ? {} : { from }),
    ...(until === undefined ? {} : { until }),
    ...(weekly === undefined ? {} : { weekly }),
  };
};

const readEntry = (entry: Json): ActiveTime => {
  if (!isObject(entry)) throw new Unusable('has an "active" that is no list of times');
  if (entry.untold !== undefined) {
    if (typeof entry.untold !== 'string' || entry.untold.trim() === '')
      throw new Unusable('has an "untold" that is no text');
    return { untold: entry.untold.trim() };
  }
  if (entry.days !== undefined) {
    return periodOf(readInstant(entry.since), readInstant(entry.before), [readWeekly(entry)]);
  }
  const from = readInstant(entry.from);
  const until = readInstant(entry.until);
  if (from === undefined || until === undefined) {
    throw new Unusable('has a time of activity that could not be read; write it as in "2026-06-14 06:40 -07:00"');
  }
  return periodOf(from, until);
};

/**
 * The times at which a zone is active, as schemas/zones.schema.json describes them: between two instants, weekly, by
 * the sun, or untold. Throws `Unusable`.
 */
export const readActive = (written: Json | undefined): readonly ActiveTime[] | undefined => {
  if (written === undefined || written === null) return undefined;
  if (!isList(written) || written.length === 0) throw new Unusable('has an "active" that is no list of times');
  return written.map(readEntry);
};

import { readTime } from '../plan/scalars/time.ts';
import { dateAt, sayDate } from '../units/calendar.ts';
import { type Instant, seconds } from '../units/frames.ts';
import { isList, isObject, type Json, type JsonObject, Unusable } from './geojson-features.ts';
import { type ActiveTime, type DayMoment, type SunEvent, WEEKDAYS, type Weekday, type WeeklyTime } from './zone.ts';
import { periodOf, readClock, readOffset } from './zone-times.ts';
import type { Validity } from './zones-file.ts';

/** When a zone applies, and what of it could not be read. `active` absent = always. */
export interface Applicability {
  readonly active?: readonly ActiveTime[];
  readonly faults: readonly string[];
}

/** Begin of morning civil twilight, sunrise, sunset, end of evening civil twilight: the codes of ED-318. */
const EVENTS: ReadonlyMap<string, SunEvent> = new Map([
  ['BMCT', 'morning twilight'],
  ['SR', 'sunrise'],
  ['SS', 'sunset'],
  ['EECT', 'evening twilight'],
]);

const instantOf = (written: Json | undefined): Instant | undefined => {
  if (written === undefined || written === null) return undefined;
  const read = typeof written === 'string' ? readTime(written) : undefined;
  if (read?.ok !== true) throw new Unusable('has a date and time without offset, or that could not be read');
  return read.value.at;
};

/** `16:00:00Z`, `16:00:00+01:00`, or the code of an event of the sun; undefined where neither is given. */
const momentOf = (time: Json | undefined, event: Json | undefined): DayMoment | undefined => {
  if (event !== undefined && time !== undefined) throw new Unusable('has a time of day beside an event of the sun');
  if (event !== undefined) {
    const known = typeof event === 'string' ? EVENTS.get(event) : undefined;
    if (known === undefined) throw new Unusable('has an event of the sun that is none of BMCT, SR, SS, EECT');
    return { event: known };
  }
  if (time === undefined) return undefined;
  const [, clockText = '', offsetText = ''] =
    typeof time === 'string' ? (/^([\d:.]+)(z|[+-]\d{2}:?\d{2})$/i.exec(time.trim()) ?? []) : [];
  const clock = readClock(clockText);
  const offsetMinutes = readOffset(offsetText);
  if (clock === undefined || offsetMinutes === undefined) {
    throw new Unusable('has a time of day without offset, or that could not be read');
  }
  return { clock: seconds(clock), offsetMinutes };
};

const daysOf = (value: Json | undefined): readonly Weekday[] => {
  const days = isList(value) ? value : [];
  if (days.length === 0) throw new Unusable('has a schedule without days');
  if (days.includes('ANY')) return WEEKDAYS;
  const known = WEEKDAYS.filter((day) => days.includes(day));
  if (days.some((day) => !WEEKDAYS.some((weekday) => weekday === day))) {
    throw new Unusable('has a schedule with a day that is none of MON to SUN and ANY');
  }
  return known;
};

const clockAt = (clock: number, offsetMinutes: number | 'local'): DayMoment => ({
  clock: seconds(clock),
  offsetMinutes,
});

const DAY = 86_400;

const offsetOf = (moment: DayMoment | undefined): number | 'local' | undefined =>
  moment !== undefined && 'clock' in moment ? moment.offsetMinutes : undefined;

/** One entry of a schedule. Where an end is left out, the day begins or ends there. */
const weeklyOf = (entry: Json): readonly WeeklyTime[] => {
  if (!isObject(entry)) throw new Unusable('has a schedule with something that is no daily period');
  const days = daysOf(entry.day);
  const from = momentOf(entry.startTime, entry.startEvent);
  const until = momentOf(entry.endTime, entry.endEvent);
  const told = offsetOf(from) ?? offsetOf(until);
  // The days of an entry without times of day may be those of UTC or of the place: it applies on either.
  const offsets =
    told === undefined && (from === undefined || until === undefined) ? ([0, 'local'] as const) : [told ?? 0];
  return offsets.map((offset) => ({ days, from: from ?? clockAt(0, offset), until: until ?? clockAt(DAY, offset) }));
};

const periodIn = (entry: Json): ActiveTime => {
  if (!isObject(entry)) throw new Unusable('has a limited applicability that is no period');
  const { schedule } = entry;
  if (schedule !== undefined && !isList(schedule)) throw new Unusable('has a schedule that is no list');
  const weekly = schedule === undefined || schedule.length === 0 ? undefined : schedule.flatMap(weeklyOf);
  return periodOf(instantOf(entry.startDateTime), instantOf(entry.endDateTime), weekly);
};

/**
 * Reads `limitedApplicability`. A period that could not be read leaves the zone active at untold times, so that it
 * counts, and its fault is handed back.
 */
export const readApplicability = (value: Json | undefined): Applicability => {
  if (value === undefined || value === null) return { faults: [] };
  if (!isList(value)) return { active: [UNREADABLE], faults: ['has a limited applicability that is no list'] };
  if (value.length === 0) return { faults: [] };
  const active: ActiveTime[] = [];
  const faults: string[] = [];
  for (const entry of value) {
    try {
      active.push(periodIn(entry));
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      active.push(UNREADABLE);
      if (!faults.includes(error.message)) faults.push(error.message);
    }
  }
  return { active, faults };
};

const UNREADABLE: ActiveTime = { untold: 'at times that could not be read' };

interface CollectionTimes {
  readonly holds?: Validity;
  /** Finishes the sentence "<file> ...". */
  readonly fault?: string;
  /** The day it was issued, as `2026-06-01`. */
  readonly issued?: string;
}

/** From when until when a collection as a whole holds, by its metadata. */
export const collectionHolds = (metadata: JsonObject): CollectionTimes => {
  const issued = typeof metadata.issued === 'string' ? readTime(metadata.issued) : undefined;
  const day = issued?.ok === true ? { issued: sayDate(dateAt(issued.value.at, issued.value.offsetMinutes)) } : {};
  try {
    const from = instantOf(metadata.validFrom);
    const until = instantOf(metadata.validTo);
    if (from === undefined && until === undefined) return day;
    return { ...day, holds: periodOf(from, until) };
  } catch (error) {
    if (!(error instanceof Unusable)) throw error;
    return { ...day, fault: 'has metadata whose "validFrom" or "validTo" could not be read' };
  }
};

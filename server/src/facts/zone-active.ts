import { type Instant, instant, type LonLat } from '../units/frames.ts';
import type { ActivePeriod, Zone } from '../world/zone.ts';
import { type FactTools, given, NotAssessed } from './fact.ts';
import { dependsOnLocalClock, isWithinHours } from './zone-hours.ts';

/** Legal times stray from the sun by up to about three hours and a half (from memory: the west of China, 3 h). */
const MOST_MINUTES = 210;

/**
 * Offsets that clocks at a place can show. The window is written by them, as a rule; one in UTC, or with the offset of
 * another part of the world, does not tell, and then every whole hour near the sun's time can be.
 */
const offsetsAt = (at: LonLat, written: number): readonly number[] => {
  const solar = at.lon * 4;
  const apart = Math.abs(written - solar);
  if (written !== 0 && Math.min(apart, Math.abs(1440 - apart)) <= MOST_MINUTES) return [written];
  const offsets: number[] = [];
  for (let hour = Math.ceil((solar - MOST_MINUTES) / 60); hour * 60 <= solar + MOST_MINUTES; hour++)
    offsets.push(hour * 60);
  return offsets;
};

type Activity = 'active' | 'asleep' | 'by local time';

/** A period against a window; `by local time` where that decides and is not known. */
const activityOf = (period: ActivePeriod, from: Instant, until: Instant, at: LonLat, written: number): Activity => {
  const start = instant(Math.max(from, period.from ?? from));
  const end = instant(Math.min(until, period.until ?? until));
  // Of a window without length its one instant counts.
  if (period.from !== undefined && period.from >= until) return 'asleep';
  if (period.until !== undefined && period.until <= from) return 'asleep';
  const { weekly } = period;
  if (weekly === undefined) return 'active';
  let unsure = false;
  for (const time of weekly) {
    const offsets = dependsOnLocalClock(time) ? offsetsAt(at, written) : [written];
    const within = offsets.filter((offset) => isWithinHours(time, start, end, at, offset)).length;
    if (within === offsets.length) return 'active';
    unsure ||= within > 0;
  }
  return unsure ? 'by local time' : 'asleep';
};

/**
 * Whether a zone is active at some time of the flight's window, seen from a place in it. A zone without times always is.
 * Throws `NotAssessed` where its times are untold, or where the plan does not tell enough to compare with them.
 */
export const isZoneActive = (zone: Zone, at: LonLat, tools: FactTools): boolean => {
  if (zone.active === undefined) return true;
  const { window } = tools.plan;
  const from = given(window?.from, `the window, which zone ${zone.name} depends on,`).value;
  const until = given(window?.until, `the end of the window, which zone ${zone.name} depends on,`).value;
  let untold: string | undefined;
  for (const time of zone.active) {
    if ('untold' in time) {
      untold ??= `zone ${zone.name} is active ${time.untold}; it counts as active until that is known`;
      continue;
    }
    const activity = activityOf(time, from.at, until.at, at, from.offsetMinutes);
    if (activity === 'active') return true;
    if (activity === 'by local time') {
      untold ??= `zone ${zone.name} is active at hours of its local time, which the window is not written in; it counts as active`;
    }
  }
  if (untold !== undefined) throw new NotAssessed(untold);
  return false;
};

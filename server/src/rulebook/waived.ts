import type { Authorisation, DateOrTime, Plan } from '../plan/model.ts';
import { endOfDay, sayDate, sayTime, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';

/** A waiver of the plan that names a section. `mismatch` finishes "waiver X ...". */
export interface WaiverOf {
  readonly waiver: Authorisation;
  readonly mismatch: string | undefined;
}

const names = (text: string, section: string): boolean =>
  text
    .split(/[,;]|\band\b/)
    .map((part) => part.replace(/^\s*(?:14\s*CFR\s*)?(?:§\s*)?/i, '').trim())
    .includes(section);

const begins = (when: DateOrTime, offset: number): Instant =>
  'time' in when ? when.time.at : startOfDay(when.date, offset);
const ends = (when: DateOrTime, offset: number): Instant =>
  'time' in when ? when.time.at : endOfDay(when.date, offset);
const sayWhen = (when: DateOrTime): string => ('time' in when ? sayTime(when.time) : sayDate(when.date));

const mismatchOf = ({ number, from, until }: Authorisation, { window }: Plan): string | undefined => {
  if (number === undefined) return 'has no number';
  if (window?.from === undefined || window.until === undefined) {
    return 'cannot be compared with the window, which is missing or could not be read';
  }
  if (from === undefined || until === undefined) return 'does not say from when until when it holds';
  const start = window.from.value;
  const stop = window.until.value;
  if (begins(from.value, start.offsetMinutes) > start.at)
    return `begins at ${sayWhen(from.value)}, after the window does`;
  if (ends(until.value, stop.offsetMinutes) < stop.at) return `ends at ${sayWhen(until.value)}, before the window does`;
  return undefined;
};

/** The authorisations and waivers of a plan whose `zone` is meant, each with what keeps it from covering the window. */
export const authorisationsFor = (plan: Plan, isMeant: (zone: string) => boolean): readonly WaiverOf[] =>
  plan.authorisations
    .filter(({ zone }) => zone !== undefined && isMeant(zone.value))
    .map((waiver) => ({ waiver, mismatch: mismatchOf(waiver, plan) }));

/** The waivers of a plan that name a section such as `107.39`: 14 CFR 107.200, 107.205. */
export const waiversOf = (plan: Plan, section: string): readonly WaiverOf[] =>
  authorisationsFor(plan, (zone) => names(zone, section));

import type { Authorisation, DateOrTime, Plan } from '../plan/model.ts';
import { endOfDay, sayDate, sayTime, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import type { Zone } from '../world/zone.ts';

/** Whether a text of an authorisation is the name of a zone. */
export const names = (zone: Zone, text: string): boolean => text === zone.id || text === zone.name;

export const begins = (when: DateOrTime, offsetMinutes: number): Instant =>
  'time' in when ? when.time.at : startOfDay(when.date, offsetMinutes);
export const ends = (when: DateOrTime, offsetMinutes: number): Instant =>
  'time' in when ? when.time.at : endOfDay(when.date, offsetMinutes);
export const sayWhen = (when: DateOrTime): string => ('time' in when ? sayTime(when.time) : sayDate(when.date));

/** Why an authorisation does not hold for the whole window. Finishes "authorisation X ...". */
export const timeMismatch = (authorisation: Authorisation, { plan }: { readonly plan: Plan }): string | undefined => {
  const from = plan.window?.from?.value;
  const until = plan.window?.until?.value;
  if (from === undefined || until === undefined)
    return 'cannot be compared with the window, which is missing or could not be read';
  if (authorisation.from === undefined || authorisation.until === undefined)
    return 'does not say from when until when it holds';
  const starts = authorisation.from.value;
  const stops = authorisation.until.value;
  if (begins(starts, from.offsetMinutes) > from.at) return `begins at ${sayWhen(starts)}, after the window does`;
  if (ends(stops, until.offsetMinutes) < until.at) return `ends at ${sayWhen(stops)}, before the window does`;
  return undefined;
};

/** The operator is whoever answers for the flight, so it is always there; everyone else has to be in the crew. */
const OPERATOR = 'operator';

/** Why whoever holds an authorisation does not fly here. Finishes "authorisation X ...". */
export const holderMismatch = (
  { holder }: Authorisation,
  { plan: { crew } }: { readonly plan: Plan },
): string | undefined => {
  if (holder === undefined) return 'does not say who holds it';
  const role = holder.value.trim();
  if (role === OPERATOR || (role === 'pilot' && crew.pilot !== undefined)) return undefined;
  if (crew.observers.some(({ name }) => name?.value === role)) return undefined;
  return `is held by "${role}", who is not in the crew of this plan`;
};

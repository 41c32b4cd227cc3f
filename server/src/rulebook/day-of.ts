import type { Plan } from '../plan/model.ts';
import { dateAt, sayDate } from '../units/calendar.ts';

/** The day of the flight as "2024-01-01": that on which its window begins, else the day it was flown. */
export const dayOf = ({ window, flown }: Pick<Plan, 'window' | 'flown'>): string | undefined => {
  const from = window?.from?.value;
  if (from !== undefined) return sayDate(dateAt(from.at, from.offsetMinutes));
  return flown === undefined ? undefined : sayDate(flown.value);
};

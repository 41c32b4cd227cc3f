import { readDateOrTime } from '../plan/scalars/time.ts';
import { startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import type { Provenance } from '../world/world.ts';

const DAY = 86_400_000;

/** When a source was retrieved; a date alone from its beginning in UTC. Undefined where it does not say, or not so that it can be read. */
export const retrievedOf = ({ retrieved }: Provenance): Instant | undefined => {
  if (retrieved === undefined) return undefined;
  // RFC 3339 lets seconds have decimals, which say nothing about an age in days.
  const read = readDateOrTime(retrieved.replace(/\.\d+/, ''));
  if (!read.ok) return undefined;
  return 'date' in read.value ? startOfDay(read.value.date, 0) : read.value.time.at;
};

/**
 * Days from when a source was retrieved to a time; undefined where that is not known. Negative where it was retrieved
 * afterwards.
 */
export const ageAt = (source: Provenance, at: Instant): number | undefined => {
  const retrieved = retrievedOf(source);
  return retrieved === undefined ? undefined : (at - retrieved) / DAY;
};

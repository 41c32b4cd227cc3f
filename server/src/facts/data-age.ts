import { readTime } from '../plan/scalars/time.ts';
import type { Instant } from '../units/frames.ts';
import type { Provenance } from '../world/world.ts';

const DAY = 86_400_000;

/**
 * Days from when a source was retrieved to a time; undefined where it does not say, or not in a way that can be read.
 * Negative where it was retrieved afterwards.
 */
export const ageAt = ({ retrieved }: Provenance, at: Instant): number | undefined => {
  if (retrieved === undefined) return undefined;
  // RFC 3339 lets seconds have decimals, which say nothing about an age in days.
  const read = readTime(retrieved.replace(/\.\d+/, ''));
  return read.ok ? (at - read.value.at) / DAY : undefined;
};

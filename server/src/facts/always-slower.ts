import { exceeds } from '../units/exceeds.ts';
import { type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import type { FactTools } from './fact.ts';

/**
 * Whether the aircraft stays below a speed over the ground in every wind that its file lets it fly in: its greatest speed
 * through the air with the greatest wind from behind. False where the file lacks one of the two.
 */
export const isAlwaysSlower = (limit: MetresPerSecond, { world }: FactTools): boolean => {
  if (isMissing(world.aircraft)) return false;
  const { maxSpeed, maxWind } = world.aircraft;
  if (maxSpeed === undefined || maxWind === undefined) return false;
  return !exceeds(metresPerSecond(maxSpeed.value + maxWind.value), limit);
};

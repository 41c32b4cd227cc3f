import type { Celsius } from '../units/frames.ts';

/** Temperature from which on the cells give all they hold. */
const WARM = 15;

/**
 * Share of a battery's energy that it gives at a temperature of its cells: all of it from 15 °C, 90 % at 10 °C, 70 % at
 * -10 °C, and one percent less for each further degree; straight lines between. Common practice, no source: manuals say
 * "10 to 30 percent less in the cold".
 */
export const shareAtTemperature = (cells: Celsius): number => {
  if (cells >= WARM) return 1;
  if (cells >= 10) return 0.9 + ((cells - 10) / (WARM - 10)) * 0.1;
  return Math.max(0.1, 0.9 - (10 - cells) * 0.01);
};

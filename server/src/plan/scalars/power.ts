import type { PowerUnit, SpeedUnit } from '../../units/convert.ts';
import type { MetresPerSecond, Watts } from '../../units/frames.ts';
import { MOVING, readAmount, refuseNumber } from './quantity.ts';
import { type Reading, refuseWhole, tidyBlanks } from './reading.ts';

/** Power that level flight takes at a speed through the air. */
export interface ReadPowerAtSpeed {
  readonly power: { readonly number: number; readonly unit: PowerUnit; readonly value: Watts };
  readonly speed: { readonly number: number; readonly unit: SpeedUnit; readonly value: MetresPerSecond };
}

const EXPECTED = 'a power at a speed through the air, such as 180 W at 12 m/s';

/** Reads `180 W at 12 m/s`. What is offered instead is itself read without a slip. */
export const readPowerAtSpeed = (text: string): Reading<ReadPowerAtSpeed> => {
  const tidy = tidyBlanks(text);
  const middle = tidy.toLowerCase().indexOf(' at ');
  if (middle < 0) return refuseNumber(text, EXPECTED, []);
  const [powerText, speedText] = [tidy.slice(0, middle), tidy.slice(middle + ' at '.length)];
  const power = readAmount(powerText, 'power');
  const speed = readAmount(speedText, 'speed', MOVING);
  if (!power.ok)
    return speed.ok
      ? refuseWhole(power.slip, text, (part) => `${part} at ${speedText}`)
      : refuseNumber(text, EXPECTED, []);
  if (!speed.ok) return refuseWhole(speed.slip, text, (part) => `${powerText} at ${part}`);
  return {
    ok: true,
    power: { number: power.number, unit: power.unit, value: power.value },
    speed: { number: speed.number, unit: speed.unit, value: speed.value },
  };
};

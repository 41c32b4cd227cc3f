import { LENGTH_UNITS, MASS_UNITS, SPEED_UNITS } from '../units/convert.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';
import type { LimitMeasure, Measure } from './finding.ts';

/** A unit's counterpart in the other system: its name and how many make the value. */
const other = ({ value, unit }: Measure): { readonly value: number; readonly unit: string } | undefined => {
  if (unit === 'm') return { value: value / LENGTH_UNITS.ft, unit: 'ft' };
  if (unit === 'm/s') return { value: value / SPEED_UNITS.kt, unit: 'kt' };
  if (unit === 'kg') return { value: value / MASS_UNITS.lb, unit: 'lb' };
  if (unit === 'C') return { value: value * 1.8 + 32, unit: 'F' };
  return undefined;
};

/** `131.4 m (431.1 ft) above ground`, with the decimals it takes to tell it from `beside` in either system. */
export const sayMeasure = (measure: Measure, beside?: Measure): string => {
  const digits = (value: number, against: number | undefined): string =>
    sayNumber(value, against === undefined ? 1 : decimalsToTell(value, against));
  const first = `${digits(measure.value, beside?.value)} ${measure.unit}`;
  const second = other(measure);
  const againstSecond = beside === undefined ? undefined : other(beside)?.value;
  const both = second === undefined ? first : `${first} (${digits(second.value, againstSecond)} ${second.unit})`;
  return measure.frame === undefined ? both : `${both} ${measure.frame}`;
};

/** `at most 121.92 m (400 ft)` is for the rule to say; this is the bare limit: `121.92 m (400 ft) above ground`. */
export const sayLimit = (limit: LimitMeasure): string => {
  const second = other(limit);
  const first = `${sayNumber(limit.value, 2)} ${limit.unit}`;
  const both = second === undefined ? first : `${first} (${sayNumber(second.value, 1)} ${second.unit})`;
  return limit.frame === undefined ? both : `${both} ${limit.frame}`;
};

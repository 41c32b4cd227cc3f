import { LENGTH_UNITS, type LengthUnit } from './convert.ts';
import type { Height, LonLat } from './frames.ts';

/**
 * Numbers as text. Rounding here never hides a breach: a value beyond its limit gets as many decimals as it takes to
 * look different from the limit. Output does not depend on the machine's locale.
 */

/** A number with at most `decimals` decimals, without trailing zeros and without an exponent. */
export const sayNumber = (value: number, decimals = 1): string => {
  const text = value.toFixed(decimals);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
};

/** Decimals that make a value look different from its limit, from `least` up to 4. */
export const decimalsToTell = (value: number, limit: number, least = 1): number => {
  for (let decimals = least; decimals < 4; decimals++) {
    if (sayNumber(value, decimals) !== sayNumber(limit, decimals)) return decimals;
  }
  return 4;
};

/** `131.4 m`, with the decimals it takes to tell it from the limit. */
export const sayMetresAgainst = (value: number, limit: number): string =>
  `${sayNumber(value, decimalsToTell(value, limit))} m`;

/** `121.92 m (400 ft)`, `120 m (393.7 ft)`: to a tenth of a foot, since 394 ft would be more than 120 m. */
export const sayMetresAndFeet = (value: number): string =>
  `${sayNumber(value, 2)} m (${sayNumber(value / LENGTH_UNITS.ft, 1)} ft)`;

/** A length in a unit the pilot used: `400 ft`. */
export const sayLength = (value: number, unit: LengthUnit, decimals = 1): string =>
  `${sayNumber(value / LENGTH_UNITS[unit], decimals)} ${unit}`;

/** Distance for people: `640 m`, `2.4 km`. */
export const sayDistance = (value: number): string =>
  Math.abs(value) < 1000 ? `${sayNumber(value, 0)} m` : `${sayNumber(value / 1000, 2)} km`;

/** `60 m above ground` */
export const sayHeight = (height: Height): string => {
  if ('aboveGround' in height) return `${sayNumber(height.aboveGround)} m above ground`;
  if ('aboveSea' in height) return `${sayNumber(height.aboveSea)} m above mean sea level`;
  if ('aboveTakeOff' in height) return `${sayNumber(height.aboveTakeOff)} m above take-off`;
  return `${sayNumber(height.aboveEllipsoid)} m above the ellipsoid`;
};

/** `47.5032, -120.4801`, latitude first, as pilots write it. Six decimals are 0.1 m. */
export const sayPosition = ({ lon, lat }: LonLat): string => `${sayNumber(lat, 6)}, ${sayNumber(lon, 6)}`;

/** `3 points`, `1 point` */
export const sayCount = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** `a`, `a or b`, `a, b or c`; at most five, the first ones. */
export const sayChoices = (parts: readonly string[]): string => {
  const shown = parts.slice(0, 5);
  if (shown.length < 2) return shown.join('');
  return `${shown.slice(0, -1).join(', ')} or ${shown[shown.length - 1]}`;
};

/** `a`, `a and b`, `a, b and c`; at most five, the rest counted. */
export const sayList = (parts: readonly string[]): string => {
  const shown = parts.slice(0, 5);
  const rest = parts.length - shown.length;
  if (rest > 0) return `${shown.join(', ')} and ${rest} more`;
  if (shown.length < 2) return shown.join('');
  return `${shown.slice(0, -1).join(', ')} and ${shown[shown.length - 1]}`;
};

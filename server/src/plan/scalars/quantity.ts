import type { Dimension } from '../../units/convert.ts';
import { sayNumber } from '../../units/say.ts';
import { nearestWord } from './nearest-word.ts';
import { type TakenNumber, takeNumber } from './number.ts';
import { type Reading, type Refusal, refuse, tidyBlanks } from './reading.ts';
import { type Dimensions, inSi, isUnit, type UnitOf, unitNamed, unitWords } from './unit-words.ts';

/** A number with a unit as written, and its value in SI. */
export interface ReadAmount<D extends Dimension> {
  readonly number: number;
  readonly unit: UnitOf<D>;
  readonly value: Dimensions[D]['value'];
}

/** Values in SI that make sense; `expected` says so: "between 0 and 360 deg". */
export interface AmountRange {
  readonly least: number;
  readonly most: number;
  readonly expected: string;
}

/** Wide enough for every flight, narrow enough to catch a slip of the hand (common practice, no source). */
const SENSIBLE: Readonly<Record<Dimension, AmountRange>> = {
  length: { least: 0, most: 1_000_000, expected: 'between 0 m and 1000 km' },
  speed: { least: 0, most: 200, expected: 'between 0 m/s and 200 m/s (389 kt)' },
  time: { least: 0, most: 3650 * 86_400, expected: 'between 0 s and 3650 d' },
  mass: { least: 0, most: 10_000, expected: 'between 0 kg and 10000 kg (22046 lb)' },
  temperature: { least: -100, most: 100, expected: 'between -100 C and 100 C' },
  angle: { least: 0, most: 360, expected: 'between 0 deg and 360 deg' },
  energy: { least: 0.036, most: 360_000_000, expected: 'above 0 Wh and up to 100 kWh' },
  power: { least: 0.001, most: 1_000_000, expected: 'above 0 W and up to 1000 kW' },
  share: { least: 0, most: 1, expected: 'between 0 % and 100 %' },
  // The densest quarters of the world have some 50,000 people on a square kilometre, a crowd millions (from memory).
  density: { least: 0, most: 10_000_000, expected: 'between 0 /km2 and 10000000 /km2' },
  surface: { least: 0.000001, most: 1000, expected: 'above 0 m2 and up to 1000 m2' },
  // The least and greatest ever measured at sea level lie inside (870 hPa and 1084 hPa, from memory).
  pressure: { least: 85_000, most: 110_000, expected: 'between 850 hPa (25.1 inHg) and 1100 hPa (32.48 inHg)' },
};

/** Ground elevations above mean sea level: from the Dead Sea shore to the highest summit, with room. */
export const ELEVATIONS: AmountRange = { least: -500, most: 9000, expected: 'between -500 m and 9000 m (29528 ft)' };

/** Speeds of something that has to arrive. */
export const MOVING: AmountRange = { least: 0.001, most: 200, expected: 'above 0 m/s and up to 200 m/s (389 kt)' };

/** Quantities that cannot be nought. */
export const ABOVE_NOUGHT = {
  time: { least: 1, most: 3650 * 86_400, expected: 'from 1 s to 3650 d' },
  mass: { least: 0.001, most: 10_000, expected: 'from 1 g to 10000 kg (22046 lb)' },
  share: { least: 0.01, most: 1, expected: 'from 1 % to 100 %' },
} as const satisfies Partial<Readonly<Record<Dimension, AmountRange>>>;

export const EXPECTED: Readonly<Record<Dimension, string>> = {
  length: 'a length such as 60 m',
  speed: 'a speed such as 8 m/s',
  time: 'a time such as 25 min',
  mass: 'a mass such as 1.2 kg',
  temperature: 'a temperature such as 18 C',
  angle: 'a direction such as 240 deg',
  pressure: 'a pressure such as 1013 hPa',
  energy: 'an energy such as 90 Wh',
  power: 'a power such as 150 W',
  share: 'a share such as 80 %',
  density: 'a number on a square kilometre such as 300 /km2',
  surface: 'a surface such as 0.03 m2',
};

/** What a bare number of each dimension is offered, likeliest first. */
const OFFERED: { readonly [D in Dimension]: readonly UnitOf<D>[] } = {
  length: ['m', 'ft'],
  speed: ['m/s', 'kt', 'km/h', 'mph'],
  time: ['s', 'min', 'h'],
  mass: ['kg', 'g', 'lb', 'oz'],
  temperature: ['C', 'F'],
  angle: ['deg'],
  pressure: ['hPa', 'inHg'],
  energy: ['Wh', 'kWh'],
  power: ['W', 'kW'],
  share: ['%'],
  density: ['/km2'],
  surface: ['m2', 'cm2'],
};

/** Reads `60 m`, `16kt`, `1.2 KG`: a number and a unit of the dimension, in any case, with or without a blank. */
export const readAmount = <D extends Dimension>(
  text: string,
  dimension: D,
  range: AmountRange = SENSIBLE[dimension],
): Reading<ReadAmount<D>> => {
  const taken = takeNumber(text.trim());
  if (taken === undefined) return unreadable(text, dimension);
  const written = tidyBlanks(taken.rest);
  const unit = unitNamed(dimension, written);
  if (unit === undefined) return withoutUnit(text, taken, written, dimension, range);
  const fits = numbersOf(taken).filter((number) => isWithin(inSi(dimension, Number(number), unit), range));
  if (fits.length === 0) return refuse({ kind: 'number-out-of-range', text, expected: range.expected });
  const value = inSi(dimension, taken.value, unit);
  if (taken.plain) return { ok: true, number: taken.value, unit, value };
  return refuseNumber(
    text,
    EXPECTED[dimension],
    fits.map((number) => number + taken.rest),
  );
};

const isWithin = (value: number, range: AmountRange): boolean => value >= range.least && value <= range.most;

/** The number as taken, and the other that it could be. */
export const numbersOf = ({ number, otherNumber }: TakenNumber): readonly string[] =>
  otherNumber === undefined ? [number] : [number, otherNumber];

/** A number that is not in our grammar, with what it could be, likeliest first. */
export const refuseNumber = (text: string, expected: string, couldBe: readonly string[]): Refusal => {
  const [mended, ...alternatives] = couldBe;
  return refuse({
    kind: 'number-unreadable',
    text,
    expected,
    ...(mended === undefined ? {} : { mended }),
    ...(alternatives.length === 0 ? {} : { alternatives }),
  });
};

const unreadable = (text: string, dimension: Dimension): Refusal =>
  (dimension === 'time' ? compoundTime(text) : undefined) ?? refuseNumber(text, EXPECTED[dimension], []);

/** A number with no unit, or with one that is not of the dimension. */
const withoutUnit = <D extends Dimension>(
  text: string,
  taken: TakenNumber,
  written: string,
  dimension: D,
  range: AmountRange,
): Refusal => {
  const units = [...new Set([...likelyUnits(dimension, written), ...OFFERED[dimension]])];
  const couldBe = numbersOf(taken).flatMap((number) => [
    ...(dimension === 'share' && written === '' ? asPercent(number) : []),
    ...units
      .filter((unit) => isWithin(inSi(dimension, Number(number), unit), range))
      .map((unit) => `${number} ${unit}`),
  ]);
  const { number } = taken;
  if (written === '' && couldBe.length === 0)
    return refuse({ kind: 'number-out-of-range', text, expected: range.expected });
  if (written === '') return refuse({ kind: 'number-without-unit', text, number, units, couldBe });
  const compound = dimension === 'time' ? compoundTime(text) : undefined;
  return compound ?? refuse({ kind: 'unit-unknown', text, number, unit: written, dimension, units, couldBe });
};

/** A bare number from 0 to 1 is likelier a part of one than so few percent. */
const asPercent = (number: string): readonly string[] => {
  const value = Number(number);
  return value > 0 && value <= 1 ? [`${sayNumber(value * 100, 4)} %`] : [];
};

/** The units of the dimension that an unknown one may stand for: `m` of a time is `min`; a mile has two lengths. */
const likelyUnits = <D extends Dimension>(dimension: D, written: string): readonly UnitOf<D>[] => {
  const lower = written.toLowerCase();
  const miles = /^miles?$/.test(lower) ? ['mi', 'nm'] : [];
  const begun = lower === '' ? [] : OFFERED[dimension].filter((unit) => unit.startsWith(lower));
  const near = isUnit(written) ? undefined : nearestWord(written, unitWords(dimension));
  const named = [...miles, ...(near === undefined ? [] : [near])].map((word) => unitNamed(dimension, word));
  return [...begun, ...named.filter((unit) => unit !== undefined)];
};

const PART = /^(\d{1,4})\s*(h|hr|hours?|min|minutes?|m|s|sec|seconds?)(?![a-z])\s*/i;

/** `1 h 30 min` is understood, but a quantity is one number with one unit: `90 min`. */
const compoundTime = (text: string): Refusal | undefined => {
  let rest = text.trim();
  let total = 0;
  let parts = 0;
  let smallest = Number.POSITIVE_INFINITY;
  for (let part = PART.exec(rest); part !== null; part = PART.exec(rest)) {
    const letter = (part[2] ?? '').charAt(0).toLowerCase();
    const factor = letter === 'h' ? 3600 : letter === 'm' ? 60 : 1;
    if (factor >= smallest) return undefined;
    smallest = factor;
    total += Number(part[1]) * factor;
    parts++;
    rest = rest.slice(part[0].length);
  }
  if (rest !== '' || parts < 2) return undefined;
  return refuseNumber(text, EXPECTED.time, [smallest === 1 ? `${total} s` : `${total / 60} min`]);
};

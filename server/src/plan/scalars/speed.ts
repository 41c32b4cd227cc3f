import type { SpeedUnit } from '../../units/convert.ts';
import type { Metres, MetresPerSecond } from '../../units/frames.ts';
import { type ReadHeight, readHeight } from './height.ts';
import { nearestWord } from './nearest-word.ts';
import { takeNumber } from './number.ts';
import { MOVING, readAmount, refuseNumber } from './quantity.ts';
import { type Reading, type Refusal, refuse, refuseWhole, tidyBlanks } from './reading.ts';
import { unitNamed } from './unit-words.ts';

export type SpeedIs = 'over ground' | 'through air';

export interface ReadLegSpeed {
  readonly number: number;
  readonly unit: SpeedUnit;
  readonly value: MetresPerSecond;
  /** Absent where the plan does not say which of the two is meant. */
  readonly speedIs?: SpeedIs;
}

/** GS and TAS are the abbreviations of ICAO Doc 8400 (from memory). */
const ENDINGS: readonly (readonly [string, SpeedIs])[] = [
  ['over ground', 'over ground'],
  ['over the ground', 'over ground'],
  ['gs', 'over ground'],
  ['through air', 'through air'],
  ['through the air', 'through air'],
  ['tas', 'through air'],
];

/** Reads `8 m/s over ground`, `16 kt through air`, or a speed alone. A leg's speed is above nought: it has to arrive. */
export const readLegSpeed = (text: string): Reading<ReadLegSpeed> => {
  const tidy = tidyBlanks(text);
  const lower = tidy.toLowerCase();
  const ending = ENDINGS.find(([words]) => lower.endsWith(` ${words}`));
  const amountText = ending === undefined ? tidy : tidy.slice(0, -ending[0].length - 1);
  const amount = readAmount(amountText, 'speed', MOVING);
  if (amount.ok) return ending === undefined ? amount : { ...amount, speedIs: ending[1] };
  if (ending !== undefined) return refuseWhole(amount.slip, text, (part) => part + tidy.slice(amountText.length));
  return unknownEnding(text, tidy) ?? refuseWhole(amount.slip, text, (part) => part);
};

/** A speed followed by words that do not say what it is measured against. */
const unknownEnding = (text: string, tidy: string): Reading<never> | undefined => {
  const taken = takeNumber(tidy);
  const words = tidyBlanks(taken?.rest ?? '').split(' ');
  const size = [2, 1].find((n) => n < words.length && unitNamed('speed', words.slice(0, n).join(' ')) !== undefined);
  if (size === undefined || taken === undefined) return undefined;
  const found = words.slice(size).join(' ');
  const amount = tidy.slice(0, tidy.length - found.length).trim();
  if (!readAmount(amount, 'speed', MOVING).ok) return undefined;
  const near = nearestWord(found, ['over ground', 'through air']);
  return refuse({
    kind: 'word-unknown',
    text,
    choices: [`${amount} over ground`, `${amount} through air`],
    ...(near === undefined ? {} : { suggestion: `${amount} ${near}` }),
  });
};

export interface ReadFollows {
  /** Always above ground: a leg follows the terrain. */
  readonly height: ReadHeight;
  readonly within: Metres;
}

const EXPECTED = 'a height above ground and how closely it is held, such as 60 m AGL within 5 m';

/** Reads `60 m AGL within 5 m`. What is offered instead is itself read without a slip. */
export const readFollows = (text: string): Reading<ReadFollows> => {
  const tidy = tidyBlanks(text);
  const middle = tidy.toLowerCase().indexOf(' within ');
  if (middle < 0) return refuseNumber(text, EXPECTED, []);
  const heightText = tidy.slice(0, middle);
  const withinText = tidy.slice(middle + ' within '.length);
  const height = readHeight(heightText, ['AGL']);
  const within = readAmount(withinText, 'length');
  if (!height.ok) return readableOnly(refuseWhole(height.slip, text, (part) => `${part} within ${withinText}`));
  if (height.datum !== 'AGL') return otherDatum(text, height, withinText);
  if (!within.ok) return refuseWhole(within.slip, text, (part) => `${heightText} within ${part}`);
  const { number, unit, datum, value } = height;
  return { ok: true, height: { number, unit, datum, value }, within: within.value };
};

const isReadable = (text: string): boolean => readFollows(text).ok;

const readableOnly = (refusal: Refusal): Refusal => {
  const { slip } = refusal;
  if ('couldBe' in slip) return refuse({ ...slip, couldBe: slip.couldBe.filter(isReadable) });
  if (slip.kind !== 'number-unreadable') return refusal;
  const { text, expected, mended, alternatives = [] } = slip;
  return refuseNumber(text, expected, (mended === undefined ? [] : [mended, ...alternatives]).filter(isReadable));
};

const otherDatum = (text: string, height: ReadHeight, withinText: string): Refusal => {
  const instead = `${height.number} ${height.unit} AGL within ${withinText}`;
  return readableOnly(
    refuse({ kind: 'altitude-without-datum', text, found: height.datum, datums: ['AGL'], couldBe: [instead] }),
  );
};

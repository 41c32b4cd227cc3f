import { aboveEllipsoid, aboveGround, aboveSea, aboveTakeOff, type Height, type Metres } from '../../units/frames.ts';
import { sayNumber } from '../../units/say.ts';
import type { Datum } from '../model.ts';
import { nearestWord } from './nearest-word.ts';
import { type TakenNumber, takeNumber } from './number.ts';
import { numbersOf, refuseNumber } from './quantity.ts';
import { type Reading, type Refusal, refuse, tidyBlanks } from './reading.ts';
import { inSi, isUnit, unitNamed, unitWords } from './unit-words.ts';

/** A height as written, without its place. */
export interface ReadHeight {
  readonly number: number;
  readonly unit: 'm' | 'ft';
  readonly datum: Datum;
  readonly value: Height;
}

/**
 * How datums are written, in lower case. AGL, AMSL and MSL are abbreviations of ICAO Doc 8400; ASL stands on Canadian
 * charts and HAE in geodesy (from memory). The words are plain language.
 */
const DATUM_WORDS: Readonly<Record<Datum, readonly string[]>> = {
  AGL: ['agl', 'above ground', 'above ground level', 'above the ground'],
  AMSL: ['amsl', 'msl', 'asl', 'above mean sea level', 'above sea level', 'above the sea'],
  'above take-off': ['above take-off', 'above takeoff', 'above take off'],
  'above ellipsoid': ['above ellipsoid', 'above the ellipsoid', 'hae'],
};

const DATUMS: readonly Datum[] = ['AGL', 'AMSL', 'above take-off', 'above ellipsoid'];

const BY_WORD: ReadonlyMap<string, Datum> = new Map(
  DATUMS.flatMap((datum) => DATUM_WORDS[datum].map((word): [string, Datum] => [word, datum])),
);

/** Heights above ellipsoid are offered to nobody who did not write the word: raw satellite heights are rare in plans. */
const OFFERED: readonly Datum[] = ['AGL', 'AMSL', 'above take-off'];

const EXPECTED = 'a height such as 60 m AGL or 1350 ft AMSL';

/** Least height in metres that makes sense above each datum; the greatest is the same for all. */
const LEAST: Readonly<Record<Datum, number>> = { AGL: 0, AMSL: -500, 'above take-off': -9000, 'above ellipsoid': -600 };
const MOST = 20_000;

/**
 * Reads `60 m AGL`, `1350ft amsl`, `45 m above take-off`, `512 m above ellipsoid`: a number, metres or feet, and the
 * datum from which the height counts. Nothing is assumed where one of the three is missing; `offered` are the datums
 * to choose from then.
 */
export const readHeight = (text: string, offered: readonly Datum[] = OFFERED): Reading<ReadHeight> => {
  const taken = takeNumber(text.trim());
  if (taken === undefined) return refuseNumber(text, EXPECTED, datumFirst(text));
  const { unit, unitText, datum, datumText } = unitAndDatum(tidyBlanks(taken.rest));
  if (unit === undefined && unitText === '') return bareNumber(text, taken, datum === undefined ? offered : [datum]);
  if (unit === undefined) return otherUnit(text, taken, unitText, datum === undefined ? offered : [datum]);
  if (datum === undefined) return withoutDatum(text, taken, unitText, datumText, offered);
  const fits = numbersOf(taken).filter((number) => isSensible(inSi('length', Number(number), unit), datum));
  if (fits.length === 0) return refuse({ kind: 'number-out-of-range', text, expected: sayRange(datum) });
  if (!taken.plain)
    return refuseNumber(
      text,
      EXPECTED,
      fits.map((number) => number + taken.rest),
    );
  return { ok: true, number: taken.value, unit, datum, value: heightOf(inSi('length', taken.value, unit), datum) };
};

/** A height in metres above a datum. */
export const heightOf = (value: Metres, datum: Datum): Height => {
  if (datum === 'AGL') return { aboveGround: aboveGround(value) };
  if (datum === 'AMSL') return { aboveSea: aboveSea(value) };
  if (datum === 'above take-off') return { aboveTakeOff: aboveTakeOff(value) };
  return { aboveEllipsoid: aboveEllipsoid(value) };
};

const isSensible = (value: number, datum: Datum): boolean => value >= LEAST[datum] && value <= MOST;

const sayRange = (datum: Datum): string =>
  `between ${sayNumber(LEAST[datum])} m ${datum} and 20000 m ${datum} (65617 ft)`;

const datumNamed = (text: string): Datum | undefined => BY_WORD.get(text.toLowerCase());

interface Tail {
  readonly unit?: 'm' | 'ft' | undefined;
  readonly unitText: string;
  readonly datum?: Datum | undefined;
  readonly datumText: string;
}

const metresOrFeet = (text: string): 'm' | 'ft' | undefined => {
  const unit = unitNamed('length', text);
  return unit === 'm' || unit === 'ft' ? unit : undefined;
};

/** Parts what follows the number into unit and datum, with or without a blank between them. */
const unitAndDatum = (rest: string): Tail => {
  const alone = datumNamed(rest);
  if (alone !== undefined) return { unitText: '', datum: alone, datumText: rest };
  const gap = rest.indexOf(' ');
  const unitText = gap < 0 ? rest : rest.slice(0, gap);
  const datumText = gap < 0 ? '' : rest.slice(gap + 1);
  const unit = metresOrFeet(unitText);
  if (unit !== undefined) return { unit, unitText, datum: datumNamed(datumText), datumText };
  return glued(rest) ?? { unitText, datum: datumNamed(datumText), datumText };
};

/** `mAGL`, `ftabove take-off` */
const glued = (rest: string): Tail | undefined => {
  const lower = rest.toLowerCase();
  for (const word of unitWords('length')) {
    const unit = lower.startsWith(word) ? metresOrFeet(word) : undefined;
    const datumText = rest.slice(word.length).trim();
    const datum = unit === undefined ? undefined : datumNamed(datumText);
    if (datum !== undefined) return { unit, unitText: word, datum, datumText };
  }
  return undefined;
};

const everyWay = (taken: TakenNumber, units: readonly string[], datums: readonly Datum[]): readonly string[] =>
  numbersOf(taken).flatMap((number) =>
    datums.flatMap((datum) =>
      units
        .filter((unit) => isSensible(inSi('length', Number(number), metresOrFeet(unit) ?? 'm'), datum))
        .map((unit) => `${number} ${unit} ${datum}`),
    ),
  );

const bareNumber = (text: string, taken: TakenNumber, datums: readonly Datum[]): Refusal => {
  const couldBe = everyWay(taken, ['m', 'ft'], datums);
  if (couldBe.length === 0) {
    return refuse({ kind: 'number-out-of-range', text, expected: sayRange(datums[0] ?? 'AGL') });
  }
  const units = datums.flatMap((datum) => [`m ${datum}`, `ft ${datum}`]);
  return refuse({ kind: 'number-without-unit', text, number: taken.number, units, couldBe });
};

/** A length unit in which heights are not given is converted; of any other, only the number is kept. */
const otherUnit = (text: string, taken: TakenNumber, unit: string, datums: readonly Datum[]): Refusal => {
  const { number } = taken;
  const couldBe =
    inMetres(taken, unit, datums) ?? everyWay(taken, likelyFeet(unit) ? ['ft', 'm'] : ['m', 'ft'], datums);
  return refuse({ kind: 'unit-unknown', text, number, unit, dimension: 'length', units: ['m', 'ft'], couldBe });
};

const inMetres = (taken: TakenNumber, unit: string, datums: readonly Datum[]): readonly string[] | undefined => {
  const length = unitNamed('length', unit);
  if (length === undefined || taken.otherNumber !== undefined) return undefined;
  const value = inSi('length', taken.value, length);
  return datums.filter((datum) => isSensible(value, datum)).map((datum) => `${sayNumber(value, 2)} m ${datum}`);
};

const likelyFeet = (unit: string): boolean =>
  !isUnit(unit) && metresOrFeet(nearestWord(unit, unitWords('length')) ?? '') === 'ft';

const withoutDatum = (
  text: string,
  taken: TakenNumber,
  unitText: string,
  found: string,
  offered: readonly Datum[],
): Refusal => {
  const near = datumNamed(nearestWord(found, [...BY_WORD.keys()]) ?? '');
  const datums = near === undefined ? offered : [near, ...offered.filter((datum) => datum !== near)];
  return refuse({
    kind: 'altitude-without-datum',
    text,
    ...(found === '' ? {} : { found }),
    datums,
    couldBe: everyWay(taken, [unitText], datums),
  });
};

/** `AGL 60 m` is understood, but the datum stands last. */
const datumFirst = (text: string): readonly string[] => {
  const [, word = '', amount = ''] = /^([a-z]+)\s+(\S.*)$/is.exec(text.trim()) ?? [];
  if (datumNamed(word) === undefined) return [];
  const turned = `${amount} ${word}`;
  return readHeight(turned).ok ? [turned] : [];
};

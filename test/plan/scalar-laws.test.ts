import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readHeight } from '../../server/src/plan/scalars/height.ts';
import { readPosition, readPositionParts } from '../../server/src/plan/scalars/position.ts';
import { readAmount } from '../../server/src/plan/scalars/quantity.ts';
import type { SlipDetails } from '../../server/src/plan/scalars/reading.ts';
import { readFollows, readLegSpeed } from '../../server/src/plan/scalars/speed.ts';
import { readDate, readDateOrTime, readTime } from '../../server/src/plan/scalars/time.ts';

const anyCase = (word: string): fc.Arbitrary<string> =>
  fc
    .array(fc.boolean(), { minLength: word.length, maxLength: word.length })
    .map((upper) =>
      [...word].map((letter, index) => (upper[index] === true ? letter.toUpperCase() : letter.toLowerCase())).join(''),
    );
const blanks = fc.constantFrom('', ' ', '  ', '\t', '\u00a0', '\u202f');
const decimals = (whole: fc.Arbitrary<number>): fc.Arbitrary<string> =>
  fc
    .tuple(whole, fc.option(fc.stringMatching(/^\d{1,5}$/)))
    .map(([n, rest]) => (rest === null ? `${n}` : `${n}.${rest}`));

describe('a value that is written in any accepted style reads back equal', () => {
  test('quantities', () => {
    const units: readonly (readonly ['length' | 'speed' | 'time' | 'mass' | 'power' | 'energy', string, number])[] = [
      ['length', 'm', 1],
      ['length', 'meters', 1],
      ['length', 'ft', 0.3048],
      ['length', 'sm', 1609.344],
      ['length', 'nm', 1852],
      ['speed', 'm/s', 1],
      ['speed', 'kt', 1852 / 3600],
      ['speed', 'knots', 1852 / 3600],
      ['time', 'min', 60],
      ['time', 'hrs', 3600],
      ['mass', 'g', 0.001],
      ['mass', 'lb', 0.45359237],
      ['power', 'W', 1],
      ['power', 'kw', 1000],
      ['energy', 'Wh', 3600],
      ['energy', 'kwh', 3_600_000],
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...units).chain((unit) => fc.tuple(fc.constant(unit), anyCase(unit[1]))),
        // No pack holds nothing, or more than 100 kWh.
        decimals(fc.integer({ min: 1, max: 99 })),
        blanks,
        fc.constantFrom('', '+'),
        ([[dimension, , factor], word], number, blank, sign) => {
          const read = readAmount(`${sign}${number}${blank}${word}`, dimension);
          expect(read).toMatchObject({ ok: true, number: Number(number) });
          expect(read.ok && Math.abs(read.value - Number(number) * factor)).toBeLessThan(1e-9);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('heights', () => {
    const datums = [
      ['agl', 'AGL'],
      ['above ground', 'AGL'],
      ['amsl', 'AMSL'],
      ['msl', 'AMSL'],
      ['above take-off', 'above take-off'],
      ['above takeoff', 'above take-off'],
      ['above ellipsoid', 'above ellipsoid'],
    ] as const;
    fc.assert(
      fc.property(
        decimals(fc.nat(9999)),
        fc.constantFrom('m', 'ft', 'metres', 'feet').chain(anyCase),
        fc.constantFrom(...datums).chain(([words, datum]) => fc.tuple(anyCase(words), fc.constant(datum))),
        blanks,
        blanks,
        (number, unit, [words, datum], before, between) => {
          const read = readHeight(`${number}${before}${unit}${between}${words}`);
          const factor = unit.toLowerCase().startsWith('m') ? 1 : 0.3048;
          expect(read).toMatchObject({ ok: true, number: Number(number), datum });
          expect(read.ok && Object.values(read.value)).toEqual([Number(number) * factor]);
        },
      ),
      { numRuns: 2000 },
    );
  });

  const two = (n: number): string => String(n).padStart(2, '0');
  /** A coordinate in thousandths of a second of arc, written in one of the notations. */
  const written = (size: number, negative: boolean, axis: 'NS' | 'EW', style: string): string => {
    const letter = axis.charAt(negative ? 1 : 0);
    const sign = negative ? '-' : '';
    const degrees = Math.floor(size / 3_600_000);
    const minutes = Math.floor(size / 60_000) % 60;
    const seconds = `${two(Math.floor(size / 1000) % 60)}.${String(size % 1000).padStart(3, '0')}`;
    if (style === 'signed') return `${sign}${(size / 3_600_000).toFixed(9)}`;
    if (style === 'lettered') return `${(size / 3_600_000).toFixed(9)} ${letter}`;
    if (style === 'marked') return `${degrees}°${minutes}'${seconds}"${letter}`;
    if (style === 'blank') return `${degrees} ${two(minutes)} ${seconds} ${letter}`;
    if (style === 'minutes') return `${degrees}°${((size % 3_600_000) / 60_000).toFixed(8)}' ${letter}`;
    if (style === 'signed marks') return `${sign}${degrees}°${minutes}′${seconds}″`;
    if (style === 'first') return `${letter} ${degrees}° ${minutes}' ${seconds}''`;
    return `${String(degrees).padStart(axis === 'NS' ? 2 : 3, '0')}${two(minutes)}${seconds}${letter}`;
  };

  test('positions', () => {
    const styles = ['signed', 'lettered', 'marked', 'blank', 'minutes', 'signed marks', 'first', 'packed'];
    fc.assert(
      fc.property(
        fc.nat(90 * 3_600_000 - 1),
        fc.nat(180 * 3_600_000 - 1),
        fc.boolean(),
        fc.boolean(),
        fc.constantFrom(...styles),
        (lat, lon, south, west, style) => {
          const text = `${written(lat, south, 'NS', style)}, ${written(lon, west, 'EW', style)}`;
          const read = readPosition(text);
          expect(read, text).toMatchObject({ ok: true });
          if (!read.ok) return;
          expect(Math.abs(read.value.lat - ((south ? -1 : 1) * lat) / 3_600_000), text).toBeLessThan(1e-8);
          expect(Math.abs(read.value.lon - ((west ? -1 : 1) * lon) / 3_600_000), text).toBeLessThan(1e-8);
        },
      ),
      { numRuns: 3000 },
    );
  });

  test('times', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1900-01-02T00:00:00Z'), max: new Date('2199-12-30T00:00:00Z'), noInvalidDate: true }),
        fc.integer({ min: -12 * 4, max: 14 * 4 }),
        fc.constantFrom(' ', 'T', 't'),
        fc.constantFrom('', ' '),
        fc.constantFrom('', ':'),
        (date, quarters, separator, blank, colon) => {
          const offset = quarters * 15;
          const at = Math.floor(date.getTime() / 1000) * 1000;
          const local = new Date(at + offset * 60_000).toISOString();
          const size = Math.abs(offset);
          const zone = `${offset < 0 ? '-' : '+'}${two(Math.floor(size / 60))}${colon}${two(size % 60)}`;
          const read = readTime(`${local.slice(0, 10)}${separator}${local.slice(11, 19)}${blank}${zone}`);
          expect(read).toEqual({ ok: true, value: { at, offsetMinutes: offset } });
        },
      ),
      { numRuns: 2000 },
    );
  });
});

const READERS: readonly (readonly [string, (text: string) => { ok: true } | { ok: false; slip: SlipDetails }])[] = [
  ['length', (text) => readAmount(text, 'length')],
  ['speed', (text) => readAmount(text, 'speed')],
  ['time', (text) => readAmount(text, 'time')],
  ['mass', (text) => readAmount(text, 'mass')],
  ['temperature', (text) => readAmount(text, 'temperature')],
  ['angle', (text) => readAmount(text, 'angle')],
  ['height', (text) => readHeight(text)],
  ['leg speed', readLegSpeed],
  ['following', readFollows],
  ['position', readPosition],
  ['latitude', (text) => readPositionParts({ lat: text, lon: /[a-z]/i.test(text) ? '8 E' : '8' })],
  ['date', readDate],
  ['time of day', readTime],
  ['date or time', readDateOrTime],
];

/** Every whole text that a slip offers to write instead. */
const offered = (slip: SlipDetails): readonly string[] => {
  const texts: string[] = [];
  if ('couldBe' in slip) texts.push(...slip.couldBe);
  if ('mended' in slip && slip.mended !== undefined) texts.push(slip.mended);
  if ('alternatives' in slip) texts.push(...(slip.alternatives ?? []));
  if (slip.kind === 'word-unknown') texts.push(...slip.choices);
  return texts;
};

/** Texts that look much like those a pilot writes, right and wrong. */
const nearly = fc
  .array(
    fc.oneof(
      { weight: 4, arbitrary: fc.stringMatching(/^\d{1,4}$/) },
      fc.constantFrom(
        ...['.', ',', '-', '+', '_', "'", '"', '°', ' ', ':', '/', '\u2212', 'e3', 'x1', '0', ' '],
        ...['m', 'ft', 'km', 'NM', 'miles', 'm/s', 'kt', 'min', 'h', 's', 'kg', 'lb', 'C', 'F', 'deg', 'xx'],
        ...[' AGL', ' AMSL', ' above take-off', ' agk', ' over ground', ' GS', ' within ', 'N', 'W', ' S', ' E', ', '],
        ...['2026-06-14', '06:40', 'T', 'Z', '-07:00', 'June ', '14', '2026', ' am'],
      ),
    ),
    { minLength: 1, maxLength: 7 },
  )
  .map((parts) => parts.join(''));

describe.each(READERS)('the reader of a %s', (_, read) => {
  test('answers every text, and offers only texts that it reads', () => {
    fc.assert(
      fc.property(fc.oneof({ weight: 5, arbitrary: nearly }, fc.string({ unit: 'binary' })), (text) => {
        const result = read(text);
        if (result.ok) return;
        if ('text' in result.slip) expect(result.slip.text).toBe(text);
        for (const instead of offered(result.slip)) {
          expect(read(instead), `${JSON.stringify(text)} is offered ${JSON.stringify(instead)}`).toMatchObject({
            ok: true,
          });
          expect(instead).not.toBe(text);
        }
      }),
      { numRuns: 4000 },
    );
  });
});

test('a number is accepted only where its digits say the same to everyone', () => {
  fc.assert(
    fc.property(nearly, (text) => {
      const read = readAmount(text, 'length');
      if (!read.ok) return;
      const digits = /^[+\-\u2212]?(0|[1-9]\d*)(\.\d+)?(?=[^\d.,]|$)/.exec(text.trim())?.[0] ?? 'none';
      expect(Number(digits.replace('\u2212', '-'))).toBe(read.number === 0 ? 0 : read.number);
    }),
    { numRuns: 5000 },
  );
});

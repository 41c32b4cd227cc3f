import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { operatorCheck, operatorNumberFault, withoutSecret } from '../../server/src/facts/operator-number.ts';
import { serialFault } from '../../server/src/facts/serial-number.ts';
import { lastDayAfterMonths, sayDate, yearsAfter } from '../../server/src/units/calendar.ts';
import { MASS_UNITS } from '../../server/src/units/convert.ts';

/**
 * AMC1 to Article 14(6) of (EU) 2019/947 (EASA): the worked number FIN87astrdge12k8-xyz. BGRpxs4wvrvpbp63-duz is the
 * example on the registration page of the Bulgarian authority (secondary copy).
 */
describe('the check character of an operator’s number', () => {
  test('is 8 in the published example', () => expect(operatorCheck('87astrdge12kxyz')).toBe('8'));
  test('is 3 in the Bulgarian example', () => expect(operatorCheck('pxs4wvrvpbp6duz')).toBe('3'));
  // Computed from the same algorithm, no published source: what commonly goes wrong gives another character.
  test('is b over the twelve characters alone, and j with the secret ones first', () => {
    expect(operatorCheck('87astrdge12k')).toBe('b');
    expect(operatorCheck('xyz87astrdge12k')).toBe('j');
    expect(operatorCheck('87astrdge12kxya')).toBe('n');
  });
  test('is none where there are capitals', () => expect(operatorCheck('87ASTRDGE12KXYZ')).toBeUndefined());

  const DIGITS = [...'0123456789abcdefghijklmnopqrstuvwxyz'];
  const word = (length: number) =>
    fc.array(fc.constantFrom(...DIGITS), { minLength: length, maxLength: length }).map((parts) => parts.join(''));

  test('tells every single wrong character, as Luhn’s does', () => {
    fc.assert(
      fc.property(word(12), word(3), fc.nat({ max: 14 }), fc.constantFrom(...DIGITS), (own, secret, at, other) => {
        const text = `${own}${secret}`;
        fc.pre(text.charAt(at) !== other);
        const wrong = `${text.slice(0, at)}${other}${text.slice(at + 1)}`;
        expect(operatorCheck(wrong)).not.toBe(operatorCheck(text));
      }),
    );
  });

  test('a fault never holds a secret digit', () => {
    fc.assert(
      fc.property(word(12), word(1), fc.constantFrom('QZX', 'JKW'), (own, check, marker) => {
        const number = `FIN${own}${check}-${marker}`;
        expect(operatorNumberFault(number)?.said ?? '').not.toContain(marker);
        expect(withoutSecret(number)).not.toContain(marker);
      }),
    );
  });
});

/** ANSI/CTA-2063-A as told in secondary copies; MFR1C123456789ABC is an example given there. */
describe('serial numbers of remote identification', () => {
  test('the example has the form', () => expect(serialFault('MFR1C123456789ABC')).toBeUndefined());
  for (const wrong of ['MFR1C123456789AB', 'MFO1C123456789ABC', 'mfr1C123456789ABC', 'MFR10', 'MFR1G123456789ABCDEF']) {
    test(`${wrong} has not`, () => expect(serialFault(wrong)).toBeDefined());
  }
});

/** 14 CFR 107.65: "within the previous 24 calendar months". The dates are worked out from the words; no published example. */
describe('calendar months', () => {
  const until = (year: number, month: number, day: number): string =>
    sayDate(lastDayAfterMonths({ year, month, day }, 24));
  test('10 November 2024 counts until 30 November 2026', () => expect(until(2024, 11, 10)).toBe('2026-11-30'));
  test('the first and the last day of a month count alike', () => {
    expect(until(2024, 12, 1)).toBe('2026-12-31');
    expect(until(2024, 12, 31)).toBe('2026-12-31');
  });
  test('29 February 2024 counts until 28 February 2026, February 2022 until the 29th of 2024', () => {
    expect(until(2024, 2, 29)).toBe('2026-02-28');
    expect(until(2022, 2, 1)).toBe('2024-02-29');
  });
  test('five years after 29 February 2024 is 28 February 2029', () =>
    expect(sayDate(yearsAfter({ year: 2024, month: 2, day: 29 }, 5))).toBe('2029-02-28'));
});

/** The international avoirdupois pound, 0.45359237 kg (NIST SP 811). */
test('55 lb are 24.9476 kg, and 0.55 lb are 249.476 g', () => {
  expect(55 * MASS_UNITS.lb).toBeCloseTo(24.9476, 4);
  expect(0.55 * MASS_UNITS.lb * 1000).toBeCloseTo(249.476, 3);
});

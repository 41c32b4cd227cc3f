import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exceeds, fallsShortOf } from '../../server/src/units/exceeds.ts';
import { aboveEllipsoid, aboveGround, aboveSea, aboveTakeOff, lonLat, metres } from '../../server/src/units/frames.ts';
import {
  sayChoices,
  sayCount,
  sayDistance,
  sayHeight,
  sayLength,
  sayList,
  sayMetresAgainst,
  sayMetresAndFeet,
  sayNumber,
  sayPosition,
} from '../../server/src/units/say.ts';

describe('rounding never hides a breach', () => {
  const limits = fc.oneof(
    fc.constantFrom(121.92, 120, 152.4, 30, 4828.032, 0),
    fc.double({ min: 0, max: 10_000, noNaN: true }),
  );
  const steps = fc.oneof(
    fc.double({ min: 0.0011, max: 0.2, noNaN: true }),
    fc.double({ min: 0.0011, max: 500, noNaN: true }),
  );
  const said = (value: number, limit: number): number => Number(sayMetresAgainst(value, limit).replace(' m', ''));

  test('a value beyond its limit is said as one beyond it', () => {
    fc.assert(
      fc.property(limits, steps, (limit, step) => {
        const value = limit + step;
        fc.pre(exceeds(metres(value), metres(limit)));
        expect(said(value, limit)).toBeGreaterThan(limit);
        expect(sayMetresAgainst(value, limit)).not.toBe(sayMetresAgainst(limit, limit));
      }),
      { numRuns: 5000 },
    );
  });

  test('a value short of its limit is said as one short of it', () => {
    fc.assert(
      fc.property(limits, steps, (limit, step) => {
        const value = limit - step;
        fc.pre(fallsShortOf(metres(value), metres(limit)));
        expect(said(value, limit)).toBeLessThan(limit);
      }),
      { numRuns: 5000 },
    );
  });

  test('decimals are spent only where they are needed', () => {
    expect(sayMetresAgainst(131.44, 121.92)).toBe('131.4 m');
    expect(sayMetresAgainst(121.93, 121.92)).toBe('121.93 m');
    expect(sayMetresAgainst(121.922, 121.92)).toBe('121.922 m');
    expect(sayMetresAgainst(29.6, 30)).toBe('29.6 m');
    expect(sayMetresAgainst(29.99, 30)).toBe('29.99 m');
  });
});

describe('numbers as text', () => {
  test('have no trailing noughts, no exponent and no minus before nought', () => {
    expect([60, 60.04, 60.05, 100, -0.04, 1e-9, 123456789].map((n) => sayNumber(n))).toEqual([
      '60',
      '60',
      '60',
      '100',
      '0',
      '0',
      '123456789',
    ]);
    expect(sayNumber(1.25, 2)).toBe('1.25');
    expect(sayNumber(100, 0)).toBe('100');
  });

  test('carry their unit and frame', () => {
    expect(sayMetresAndFeet(121.92)).toBe('121.92 m (400 ft)');
    expect(sayLength(121.92, 'ft')).toBe('400 ft');
    expect(sayDistance(640.4)).toBe('640 m');
    expect(sayDistance(2400)).toBe('2.4 km');
    expect(sayHeight({ aboveGround: aboveGround(60) })).toBe('60 m above ground');
    expect(sayHeight({ aboveSea: aboveSea(411.48) })).toBe('411.5 m above mean sea level');
    expect(sayHeight({ aboveTakeOff: aboveTakeOff(-3) })).toBe('-3 m above take-off');
    expect(sayHeight({ aboveEllipsoid: aboveEllipsoid(512) })).toBe('512 m above the ellipsoid');
    expect(sayPosition(lonLat(-120.4813, 47.5021))).toBe('47.5021, -120.4813');
  });

  test('lists are read aloud', () => {
    expect([sayCount(1, 'point'), sayCount(3, 'point'), sayCount(2, 'leg in sight', 'legs in sight')]).toEqual([
      '1 point',
      '3 points',
      '2 legs in sight',
    ]);
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(sayList)).toEqual(['', 'a', 'a and b', 'a, b and c']);
    expect(sayList(['a', 'b', 'c', 'd', 'e', 'f', 'g'])).toBe('a, b, c, d, e and 2 more');
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(sayChoices)).toEqual(['', 'a', 'a or b', 'a, b or c']);
    expect(sayChoices(['a', 'b', 'c', 'd', 'e', 'f'])).toBe('a, b, c, d or e');
  });
});

import { describe, expect, test } from 'vitest';
import { attitudeRange, detectionRange } from '../../server/src/facts/sight-range.ts';
import { metres } from '../../server/src/units/frames.ts';

/**
 * LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7 (26 November 2024), section
 * 7.1: sight range by largest dimension, ground visibility 5 km or more. Half of its rows.
 */
const ROWS: readonly (readonly [size: number, multirotor: number, fixedWing: number])[] = [
  [1, 347, 520],
  [2, 674, 1010],
  [4, 1328, 1500],
];

const sightRangeOf = (size: number, kind: 'multirotor' | 'fixed-wing', visibility: number): number =>
  Math.min(attitudeRange(metres(size), kind), detectionRange(metres(visibility)));

describe('the range of sight', () => {
  test.each(ROWS)('of %d m: %d m for a multirotor, %d m for a fixed wing', (size, multirotor, fixedWing) => {
    expect(sightRangeOf(size, 'multirotor', 5000)).toBeCloseTo(multirotor, 6);
    expect(sightRangeOf(size, 'fixed-wing', 9000)).toBeCloseTo(fixedWing, 6);
  });

  test('of 3 m: printed as 1,000 m where the formula beside it gives 1,001 m', () => {
    expect(Math.abs(sightRangeOf(3, 'multirotor', 5000) - 1000)).toBeLessThan(1.5);
  });

  test('is never more than 1,500 m, reached at 4.53 m', () => {
    expect(sightRangeOf(4.53, 'multirotor', 10_000)).toBe(1500);
    expect(sightRangeOf(4.52, 'multirotor', 10_000)).toBeLessThan(1500);
  });

  test('is 0.3 of the visibility where that is less (EASA guidelines for the open and specific category, Issue 03)', () => {
    expect(sightRangeOf(1, 'multirotor', 1000)).toBe(300);
    expect(sightRangeOf(3, 'fixed-wing', 3000)).toBe(900);
  });
});

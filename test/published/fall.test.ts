import { describe, expect, test } from 'vitest';
import { FREE_FALL, fallReach, fallTime } from '../../server/src/facts/fall-reach.ts';
import { aboveGround, metresPerSecond } from '../../server/src/units/frames.ts';

/**
 * Energy of a fall from rest without air resistance: m g h = m v² / 2, so that the height at which a mass carries 11 or 25
 * foot-pounds follows from the energies of 14 CFR 107.120(a)(1) and 107.130(a)(1) and the foot and pound-force of NIST SP 811
 * alone. It checks `fallTime` by v = g t on another way than its own formula.
 */
const FOOT_POUND = 0.3048 * 4.4482216152605;

const energyOfFall = (kilograms: number, height: number): number => {
  const speed = FREE_FALL * fallTime(aboveGround(height));
  return (kilograms * speed * speed) / 2;
};

describe('a free fall', () => {
  test.each([
    [0.25, 11, 6.08],
    [0.25, 25, 13.83],
    [1, 11, 1.52],
    [4, 25, 0.86],
  ])('%d kg carry %d ft-lb after %d m', (kilograms, footPounds, height) => {
    const energy = energyOfFall(kilograms, height) / FOOT_POUND;
    // The heights are rounded to a centimetre.
    const centimetre = (kilograms * FREE_FALL * 0.005) / FOOT_POUND;
    expect(Math.abs(energy - footPounds)).toBeLessThanOrEqual(centimetre + 1e-9);
  });

  test('of one second is 4.903 325 m, half the standard acceleration (ISO 80000-3)', () => {
    expect(fallTime(aboveGround(4.903325))).toBeCloseTo(1, 12);
  });

  test('from 120 m at 10 m/s comes down 49.5 m away in still air (computed from the same law, no printed source)', () => {
    expect(fallReach(aboveGround(120), metresPerSecond(10), metresPerSecond(0))).toBeCloseTo(49.47, 2);
    expect(fallReach(aboveGround(120), metresPerSecond(10), metresPerSecond(5))).toBeCloseTo(1.5 * 49.47, 1);
  });

  test('from the ground goes nowhere', () => {
    expect(fallReach(aboveGround(0), metresPerSecond(10), metresPerSecond(5))).toBe(0);
    expect(fallReach(aboveGround(-3), metresPerSecond(10), metresPerSecond(5))).toBe(0);
  });
});

import { describe, expect, test } from 'vitest';
import { altitudeOnLine, RADIUS_FOR_SIGHT, radioHorizon } from '../../server/src/geo/lines-of-sight.ts';
import { metres } from '../../server/src/units/frames.ts';

/**
 * The usual form of the radio horizon over an Earth of four thirds of its radius, d = 4.12 (sqrt h1 + sqrt h2) km with
 * heights in metres: Recommendation ITU-R P.453 and handbooks of radio, from memory.
 */
describe('the radio horizon', () => {
  test.each([
    [2, 120, 50.96],
    [1.6, 0, 5.2115],
    [10, 10, 26.057],
  ])('of %d m and %d m is %d km', (one, other, kilometres) => {
    // 4.12 is itself rounded from 4.1217: 0.05 %.
    expect(Math.abs(radioHorizon(metres(one), metres(other)) / 1000 - kilometres)).toBeLessThan(0.0006 * kilometres);
  });
});

describe('a line of sight', () => {
  test('sinks by 6.8 cm in the middle of 2 km, less by refraction than the 7.8 cm of a chord of the bare Earth', () => {
    // L² / 8R = 4e6 m² / (8 x 6,371 km) = 7.85 cm; x 0.87 = 6.83 cm. Surveyors' (1 - k) L² / 2R with k = 0.13: from memory.
    expect(-altitudeOnLine(0, 0, 0.5, 2000, RADIUS_FOR_SIGHT)).toBeCloseTo(0.0683, 3);
    expect(altitudeOnLine(100, 200, 0.25, 0, RADIUS_FOR_SIGHT)).toBe(125);
  });
});

import { describe, expect, test } from 'vitest';
import { readHeight } from '../../server/src/plan/scalars/height.ts';
import { exceeds, fallsShortOf, lastsLongerThan } from '../../server/src/units/exceeds.ts';
import {
  aboveGround,
  aboveSea,
  metres,
  metresPerSecond,
  onGround,
  overGround,
  seconds,
} from '../../server/src/units/frames.ts';

const heightOf = (text: string) => {
  const read = readHeight(text);
  if (!read.ok || !('aboveGround' in read.value)) throw new Error(`${text} is no height above ground`);
  return read.value.aboveGround;
};

describe('a limit may be reached and not passed', () => {
  const limit = aboveGround(121.92);
  /** A thousand elevations from -430 m to 8,849 m, on no round numbers. */
  const elevations = Array.from({ length: 1000 }, (_, index) => aboveSea(-430 + (index * 9279) / 999 + 1 / 3));

  test('400 ft AGL over flat ground at 1,000 elevations never exceeds 400 ft', () => {
    const written = heightOf('400 ft AGL');
    const roundTrips = elevations.map((ground) => overGround(onGround(ground, written), ground));
    expect(roundTrips.filter((height) => exceeds(height, limit))).toEqual([]);
    // The way over the sea level does lose digits; without a tolerance the law would seem broken.
    expect(roundTrips.filter((height) => height > limit).length).toBeGreaterThan(0);
  });

  test('400.02 ft AGL always does', () => {
    const written = heightOf('400.02 ft AGL');
    const roundTrips = elevations.map((ground) => overGround(onGround(ground, written), ground));
    expect(roundTrips.every((height) => exceeds(height, limit))).toBe(true);
  });

  test('the tolerance is a millimetre, a millimetre a second, and a tenth of a second', () => {
    expect(exceeds(metres(120.0009), metres(120))).toBe(false);
    expect(exceeds(metres(120.0011), metres(120))).toBe(true);
    expect(exceeds(metresPerSecond(44.7579), metresPerSecond(44.7567))).toBe(true);
    expect(exceeds(metresPerSecond(44.7572), metresPerSecond(44.7567))).toBe(false);
    expect(lastsLongerThan(seconds(60.09), seconds(60))).toBe(false);
    expect(lastsLongerThan(seconds(60.11), seconds(60))).toBe(true);
    expect(fallsShortOf(metres(29.9991), metres(30))).toBe(false);
    expect(fallsShortOf(metres(29.9989), metres(30))).toBe(true);
  });
});

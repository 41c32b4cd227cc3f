import { describe, expect, test } from 'vitest';
import { windTriangle } from '../../server/src/facts/ground-speed.ts';
import { LENGTH_UNITS, SPEED_UNITS } from '../../server/src/units/convert.ts';
import { metresPerSecond } from '../../server/src/units/frames.ts';

const knots = (n: number) => metresPerSecond(n * SPEED_UNITS.kt);

/** Track and heading in degrees true, speeds in knots, as printed: whole degrees and knots, so the tolerance is one of each. */
const ROWS: readonly {
  readonly source: string;
  readonly track: number;
  readonly airSpeed: number;
  readonly wind: readonly [from: number, speed: number];
  readonly heading?: number;
  readonly groundSpeed?: number;
}[] = [
  {
    source: 'FAA-H-8083-25, east course with north-east wind',
    track: 90,
    airSpeed: 120,
    wind: [45, 40],
    groundSpeed: 88,
  },
  { source: 'published exam bank', track: 180, airSpeed: 180, wind: [100, 18], heading: 174, groundSpeed: 176 },
  { source: 'published exam bank', track: 255, airSpeed: 100, wind: [200, 10], heading: 250 },
  {
    source: 'navigation handbook of the 1940s p. 73 (in mph)',
    track: 304,
    airSpeed: 150,
    wind: [45, 30],
    heading: 315,
    groundSpeed: 153,
  },
  {
    source: 'published exam bank, heading 254',
    track: 262,
    airSpeed: 163,
    wind: [130, 30],
    heading: 254,
    groundSpeed: 182,
  },
  { source: 'published exam bank, 10 right', track: 60, airSpeed: 130, wind: [190, 30], heading: 70, groundSpeed: 147 },
];

describe('the wind triangle', () => {
  test.each(ROWS)('$source: track $track at $airSpeed', ({ track, airSpeed, wind, heading, groundSpeed }) => {
    const triangle = windTriangle(track, knots(airSpeed), wind[0], knots(wind[1]));
    if (triangle.kind !== 'flown') throw new Error('the track cannot be held');
    if (heading !== undefined) expect(Math.abs(track + triangle.correction - heading)).toBeLessThan(1);
    if (groundSpeed !== undefined) {
      expect(Math.abs(triangle.groundSpeed / SPEED_UNITS.kt - groundSpeed)).toBeLessThan(1);
    }
  });

  test('a tail wind adds: 80 kt through air with 10 kt from behind is 90 kt over ground', () => {
    const triangle = windTriangle(70, knots(80), 250, knots(10));
    expect(triangle.kind === 'flown' && triangle.groundSpeed).toBeCloseTo(knots(90), 9);
  });

  test('a wind across the track that is stronger than the craft cannot be held against', () => {
    expect(windTriangle(0, metresPerSecond(10), 90, metresPerSecond(11)).kind).toBe('cannot-hold');
    expect(windTriangle(0, metresPerSecond(10), 0, metresPerSecond(10)).kind).toBe('cannot-hold');
    expect(windTriangle(0, metresPerSecond(10), 0, metresPerSecond(12)).kind).toBe('cannot-hold');
  });
});

describe('limits that rest on conversions', () => {
  test('400 ft are 121.92 m and 87 kt are 44.756667 m/s (14 CFR 107.51(a) and (b))', () => {
    expect(400 * LENGTH_UNITS.ft).toBeCloseTo(121.92, 12);
    expect(87 * SPEED_UNITS.kt).toBeCloseTo(44.756667, 6);
  });
});

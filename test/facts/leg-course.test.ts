import { describe, expect, test } from 'vitest';
import { NotAssessed } from '../../server/src/facts/fact.ts';
import { type LegCourse, legCourse } from '../../server/src/facts/leg-course.ts';
import { madePlan, worldWith } from './made-plan.ts';

const WINDOW = 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n';

const courseOf = (from: string, to: string, head = WINDOW): LegCourse => {
  const route = [from, to].map((at, i) => `  - point: p${i}\n    at: ${at}\n    altitude: 60 m AGL\n`).join('');
  const made = madePlan(`country: US\n${head}route:\n${route}`, worldWith([]));
  return made.tools.ask(legCourse, made.legTo('p1'));
};

const whyMissing = ({ byCompass }: LegCourse): string | undefined =>
  'missing' in byCompass ? byCompass.missing : undefined;

/** Course by the compass, and variation, in degrees. */
const numbersOf = ({ byCompass }: LegCourse): readonly [magnetic: number, variation: number] => {
  if ('missing' in byCompass) throw new Error(byCompass.missing);
  return [byCompass.known.fromMagneticNorth, byCompass.known.variation.value];
};

describe('the course of a leg', () => {
  test('is smaller by the compass than by the map where the variation is east', () => {
    const course = courseOf('47.5, -120.5', '47.5, -120.49');
    expect(course.fromTrueNorth).toBeCloseTo(90, 1);
    const [magnetic, variation] = numbersOf(course);
    // Between 14 and 16 degrees east in the middle of Washington State in these years (from memory).
    expect(variation).toBeGreaterThan(14);
    expect(variation).toBeLessThan(16);
    expect(magnetic).toBeCloseTo(course.fromTrueNorth - variation, 9);
  });

  test('is greater by the compass than by the map where the variation is west', () => {
    const course = courseOf('44.2, -71.3', '44.2, -71.29');
    const [magnetic, variation] = numbersOf(course);
    expect(variation).toBeLessThan(-10);
    expect(magnetic).toBeGreaterThan(course.fromTrueNorth + 10);
  });

  test('stays from 0 to below 360 on either side of north', () => {
    const course = courseOf('47.5, -120.5', '47.51, -120.5');
    const [magnetic, variation] = numbersOf(course);
    expect(course.fromTrueNorth).toBe(0);
    expect(magnetic).toBeCloseTo(360 - variation, 9);
    const [past] = numbersOf(courseOf('44.2, -71.3', '44.21, -71.3003'));
    expect(past).toBeGreaterThan(0);
    expect(past).toBeLessThan(30);
  });

  test('takes the day of the window, not the time of checking', () => {
    const day = (year: number): string =>
      `window: { from: ${year}-06-14 06:40 -07:00, until: ${year}-06-14 07:10 -07:00 }\n`;
    const [, before] = numbersOf(courseOf('47.5, -120.5', '47.5, -120.49', day(2025)));
    const [, after] = numbersOf(courseOf('47.5, -120.5', '47.5, -120.49', day(2029)));
    expect(before - after).toBeGreaterThan(0.1);
  });

  test('stands from true north alone where the window is missing', () => {
    const course = courseOf('47.5, -120.5', '47.5, -120.49', '');
    expect(course.fromTrueNorth).toBeCloseTo(90, 1);
    expect(whyMissing(course)).toBe('the window of the flight is missing or could not be read');
  });

  test('stands from true north alone in a year for which no model is carried', () => {
    const window = 'window: { from: 2030-06-14 06:40 -07:00, until: 2030-06-14 07:10 -07:00 }\n';
    expect(whyMissing(courseOf('47.5, -120.5', '47.5, -120.49', window))).toBe(
      'the flight is on 2030-06-14, and the magnetic model carried here, WMM2025, is published for 2025 to 2030',
    );
  });

  test('stands from true north alone near the magnetic pole, where a compass cannot be relied upon', () => {
    const said = whyMissing(courseOf('85.8, 139', '85.8, 139.1'));
    expect(said).toMatch(/^the horizontal magnetic field at 85\.8, 139 is \d{1,4} nT, and below 2000 nT a compass/);
  });

  test('is not there for a leg without length', () => {
    expect(() => courseOf('47.5, -120.5', '47.5, -120.5')).toThrow(NotAssessed);
  });
});

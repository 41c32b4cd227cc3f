import { describe, expect, test } from 'vitest';
import {
  blurInPixels,
  distanceForOverlap,
  footprintOf,
  heightForSampling,
  overlapAt,
  samplingDistance,
} from '../../server/src/geo/photo.ts';

/**
 * Worked examples of flight planning after P. R. Wolf, B. A. Dewitt, B. E. Wilkinson, Elements of Photogrammetry with
 * Applications in GIS (4th edition, 2014), ch. 18, read in a secondary copy of test values that cites it. Sides of the sensor
 * and focal length in metres, heights above the ground that is photographed.
 */
describe('a sensor of 13.2 by 8.8 mm with 5472 by 3648 pixels behind a lens of 8.8 mm', () => {
  const [across, along, focal, pitch] = [0.0132, 0.0088, 0.0088, 0.0132 / 5472];

  test('at 100 m has a ground sampling distance of 2.741 cm and a footprint of 150 by 100 m', () => {
    expect(samplingDistance(pitch, focal, 100) * 100).toBeCloseTo(2.741, 3);
    expect(footprintOf(across, focal, 100)).toBeCloseTo(150, 9);
    expect(footprintOf(along, focal, 100)).toBeCloseTo(100, 9);
    expect(heightForSampling(pitch, focal, samplingDistance(pitch, focal, 100))).toBeCloseTo(100, 9);
  });

  test('takes a photo base of 25 m for 75 % of end lap, and 52.5 m from line to line for 65 % of side lap', () => {
    expect(distanceForOverlap(100, 0.75)).toBeCloseTo(25, 9);
    expect(distanceForOverlap(150, 0.65)).toBeCloseTo(52.5, 9);
  });

  test('over ground that is 40 m higher has 1.645 cm, and an end lap of 58.33 % only', () => {
    expect(samplingDistance(pitch, focal, 60) * 100).toBeCloseTo(1.645, 3);
    expect(overlapAt(25, footprintOf(along, focal, 60)) * 100).toBeCloseTo(58.33, 2);
  });

  test('at 10 m/s and 1/1000 s the ground moves by 1 cm, under half a pixel (common practice, no source)', () => {
    expect(blurInPixels(10, 0.001, samplingDistance(pitch, focal, 100))).toBeCloseTo(1 / 2.741, 3);
  });
});

/** A second example of the same copy. */
describe('a sensor of 35.9 by 24 mm with 7952 pixels across behind a lens of 35 mm', () => {
  test('at 120 m has a ground sampling distance of 1.548 cm and a footprint of 123.09 by 82.29 m', () => {
    expect(samplingDistance(0.0359 / 7952, 0.035, 120) * 100).toBeCloseTo(1.548, 3);
    expect(footprintOf(0.0359, 0.035, 120)).toBeCloseTo(123.09, 2);
    expect(footprintOf(0.024, 0.035, 120)).toBeCloseTo(82.29, 2);
  });
});

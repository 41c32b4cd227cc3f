import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { destination, distance, inverse, legPath } from '../../server/src/geo/geodesy.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

/**
 * C. F. F. Karney, GeodTest (random geodesics on WGS 84), and lines that several published suites share.
 * lat1, lon1, lat2, lon2 in degrees, length in metres, azimuth at the start in degrees.
 */
const LINES: readonly (readonly [string, number, number, number, number, number, number])[] = [
  ['GeodTest', 36.530042355041, 0, -48.16427077909777, 5.76234469467651, 9_398_502.0434687, 176.125875162171],
  ['GeodTest', 23.104245923137, 0, 23.103520430280494, 0.002305237470119087, 249.4508219, 108.788775202534],
  ['GeodTest', 63.758775485865, 0, 25.179740339437206, 107.50499193289191, 8_337_896.7811702, 63.327049113388],
];

const degreesOf = (degrees: number, minutes: number, seconds: number): number =>
  degrees + minutes / 60 + seconds / 3600;

describe('geodesics on WGS 84', () => {
  test.each(LINES)('%s: %d, %d', (_, lat1, lon1, lat2, lon2, length, azimuth) => {
    const line = inverse(lonLat(lon1, lat1), lonLat(lon2, lat2));
    expect(Math.abs(line.length - length)).toBeLessThan(0.001);
    expect(Math.abs(line.course - azimuth)).toBeLessThan(1e-6);
    const there = destination(lonLat(lon1, lat1), azimuth, length);
    expect(distance(there, lonLat(lon2, lat2))).toBeLessThan(0.001);
  });

  test('Flinders Peak to Buninyong, the worked example of the Geocentric Datum of Australia technical manual', () => {
    // Published for GRS 80: 54,972.271 m, 306° 52' 05.37". On WGS 84 the same to the millimetre.
    const flindersPeak = lonLat(degreesOf(144, 25, 29.5244), -degreesOf(37, 57, 3.7203));
    const buninyong = lonLat(degreesOf(143, 55, 35.3839), -degreesOf(37, 39, 10.1561));
    const line = inverse(flindersPeak, buninyong);
    expect(Math.abs(line.length - 54_972.271)).toBeLessThan(0.001);
    expect(Math.abs(line.course - degreesOf(306, 52, 5.37))).toBeLessThan(0.01 / 3600);
  });

  test('a quarter of the meridian is 10,001,965.729 m', () => {
    expect(distance(lonLat(0, 0), lonLat(0, 90))).toBeCloseTo(10_001_965.729, 3);
  });

  const sample = 'geodesy/GeodTest-100_half.dat';
  test.skipIf(!hasReferenceData(sample))(`every line of the GeodTest sample (${NEEDS_REFERENCE_DATA})`, () => {
    const lines = readFileSync(inReferenceData(sample), 'utf8').trim().split('\n');
    expect(lines).toHaveLength(50);
    for (const line of lines) {
      const [lat1, lon1, azimuth, lat2, lon2, , length] = line.split(/\s+/).map(Number);
      const from = lonLat(lon1 ?? Number.NaN, lat1 ?? Number.NaN);
      const to = lonLat(lon2 ?? Number.NaN, lat2 ?? Number.NaN);
      expect(Math.abs(distance(from, to) - (length ?? Number.NaN))).toBeLessThan(1e-6);
      expect(distance(destination(from, azimuth ?? Number.NaN, length ?? Number.NaN), to)).toBeLessThan(1e-6);
      const path = legPath(from, to);
      const middle = path.at(path.length / 2);
      expect(Math.abs(distance(from, middle) - path.length / 2)).toBeLessThan(1e-5);
    }
  });
});

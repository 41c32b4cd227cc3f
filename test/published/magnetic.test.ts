import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { magneticVariation } from '../../server/src/geo/magnetic.ts';
import { startOfDay } from '../../server/src/units/calendar.ts';
import { aboveEllipsoid, type Instant, instant, lonLat } from '../../server/src/units/frames.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

/** Declinations are published in hundredths of a degree, horizontal intensities of the table in tenths of a nanotesla. */
const DEGREES = 0.01;
const NANOTESLAS = 0.1;

/** `2027.5` is the middle of 2027, whatever the length of the year. */
const timeOf = (decimalYear: number): Instant => {
  const year = Math.floor(decimalYear);
  const start = startOfDay({ year, month: 1, day: 1 }, 0);
  const next = startOfDay({ year: year + 1, month: 1, day: 1 }, 0);
  return instant(start + (decimalYear - year) * (next - start));
};

const variationAt = (year: number, kilometres: number, lat: number, lon: number) =>
  magneticVariation(lonLat(lon, lat), aboveEllipsoid(kilometres * 1000), timeOf(year));

/**
 * NOAA and British Geological Survey, test values of the World Magnetic Model 2025: decimal year, height above the WGS 84
 * ellipsoid in km, latitude, longitude, horizontal intensity in nT, declination in degrees. Half of the rows looked up;
 * the other half passed, too.
 */
const PUBLISHED: readonly (readonly [
  year: number,
  height: number,
  lat: number,
  lon: number,
  horizontal: number,
  declination: number,
])[] = [
  [2025.0, 0, 80, 0, 6523.2, 1.28],
  [2025.0, 0, -80, 240, 16898.1, 68.78],
  [2025.0, 100, 0, 120, 37688.7, -0.15],
  [2027.5, 0, 80, 0, 6507.5, 2.59],
  [2027.5, 0, -80, 240, 16908.3, 68.49],
  [2027.5, 100, 80, 0, 6201.1, 2.16],
];

/** Rows of a file of test values: year, height, latitude, longitude, horizontal intensity, declination. */
const rowsOf = (text: string): readonly (readonly number[])[] => {
  const [head = '', ...lines] = text.trim().split(/\r?\n/);
  const names = head.split(',');
  const columns = ['date', 'alt', 'lat', 'lon', 'h', 'decl'].map((name) => names.indexOf(name));
  return lines
    .map((line) => line.split(',').map(Number))
    .map((cells) => columns.map((column) => cells[column] ?? Number.NaN));
};

describe('magnetic variation by the World Magnetic Model 2025', () => {
  test.each(PUBLISHED)('in %d at %d km over %d, %d', (year, height, lat, lon, horizontal, declination) => {
    const answer = variationAt(year, height, lat, lon);
    expect(Math.abs((answer?.value ?? Number.NaN) - declination)).toBeLessThanOrEqual(DEGREES);
    expect(Math.abs((answer?.horizontalNanotesla ?? Number.NaN) - horizontal)).toBeLessThanOrEqual(NANOTESLAS);
    expect(answer?.model).toBe('WMM2025');
  });

  const VALUES = 'magnetic/wmm_test_values.csv';
  test.skipIf(!hasReferenceData(VALUES))(`at each published place and time (${NEEDS_REFERENCE_DATA})`, () => {
    const rows = rowsOf(readFileSync(inReferenceData(VALUES), 'utf8')).filter(([year = NaN]) => year >= 2025);
    expect(rows.length).toBeGreaterThanOrEqual(40);
    const off = rows.filter(([year = NaN, height = NaN, lat = NaN, lon = NaN, horizontal = NaN, declination = NaN]) => {
      const answer = variationAt(year, height, lat, lon);
      const near =
        Math.abs((answer?.value ?? NaN) - declination) <= DEGREES &&
        Math.abs((answer?.horizontalNanotesla ?? NaN) - horizontal) <= NANOTESLAS;
      return !near;
    });
    expect(off).toEqual([]);
  });

  test.skipIf(!hasReferenceData(VALUES))(
    `is not given at the places and times of the models of 2015 and 2020, since only the one in force is carried (${NEEDS_REFERENCE_DATA})`,
    () => {
      const rows = rowsOf(readFileSync(inReferenceData(VALUES), 'utf8')).filter(([year = NaN]) => year < 2025);
      expect(rows.length).toBeGreaterThanOrEqual(40);
      const answers = rows.map(([year = NaN, height = NaN, lat = NaN, lon = NaN]) =>
        variationAt(year, height, lat, lon),
      );
      expect(answers.filter((answer) => answer !== undefined)).toEqual([]);
    },
  );

  test('is not given outside the years and heights for which the model is published', () => {
    expect(variationAt(2025, 0, 47.5, -120.5)).toBeDefined();
    expect(variationAt(2030, 0, 47.5, -120.5)).toBeDefined();
    const hour = 3_600_000;
    const early = instant(timeOf(2025) - hour);
    const late = instant(timeOf(2030) + hour);
    expect(magneticVariation(lonLat(-120.5, 47.5), aboveEllipsoid(0), early)).toBeUndefined();
    expect(magneticVariation(lonLat(-120.5, 47.5), aboveEllipsoid(0), late)).toBeUndefined();
    expect(variationAt(2027, -1, 47.5, -120.5)).toBeDefined();
    expect(variationAt(2027, -1.001, 47.5, -120.5)).toBeUndefined();
    expect(variationAt(2027, 850, 47.5, -120.5)).toBeDefined();
    expect(variationAt(2027, 850.001, 47.5, -120.5)).toBeUndefined();
  });

  test('is not given for numbers that are no place, height or time', () => {
    expect(variationAt(2027, 0, 90.001, 0)).toBeUndefined();
    expect(variationAt(2027, 0, Number.NaN, 0)).toBeUndefined();
    expect(variationAt(2027, 0, 47.5, Number.NaN)).toBeUndefined();
    expect(variationAt(2027, Number.NaN, 47.5, -120.5)).toBeUndefined();
    expect(magneticVariation(lonLat(0, 0), aboveEllipsoid(0), instant(Number.NaN))).toBeUndefined();
  });

  test('is a number at the poles, and one and the same on either side of the 180th meridian', () => {
    for (const lat of [-90, 90]) {
      const answer = variationAt(2027, 0, lat, 30);
      // Next to a pole the direction is that along the same meridian.
      expect(answer?.value).toBeCloseTo(variationAt(2027, 0, lat * 0.9999999, 30)?.value ?? Number.NaN, 3);
    }
    expect(variationAt(2027, 0, 52, 180)?.value).toBeCloseTo(variationAt(2027, 0, 52, -180)?.value ?? Number.NaN, 9);
  });

  test('hardly depends on the height where a compass works well, so that a course may be told without it', () => {
    let looked = 0;
    for (let lat = -85; lat <= 85; lat += 5) {
      for (let lon = -180; lon < 180; lon += 10) {
        const low = variationAt(2027.5, 0, lat, lon);
        const high = variationAt(2027.5, 3, lat, lon);
        // Below 6,000 nT the model's publishers call for caution (World Magnetic Model, technical report; from memory).
        if (low === undefined || high === undefined || low.horizontalNanotesla < 6_000) continue;
        looked++;
        const turned = Math.abs(low.value - high.value);
        expect(Math.min(turned, 360 - turned), `${lat}, ${lon}`).toBeLessThan(0.1);
      }
    }
    expect(looked).toBeGreaterThan(1_000);
  });
});

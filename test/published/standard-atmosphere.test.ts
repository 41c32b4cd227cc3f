import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { PRESSURE_UNITS } from '../../server/src/units/convert.ts';
import { metres, pascals } from '../../server/src/units/frames.ts';
import {
  altitudeOfLevel,
  geometricAltitude,
  pressureAltitude,
  standardPressure,
} from '../../server/src/units/standard-atmosphere.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const FT = 0.3048;
const TABLE = 'atmosphere/icao_standard_atmosphere.json';

/** ICAO Doc 7488/3, table 1, as also printed in the U.S. Standard Atmosphere 1976: geopotential altitude and pressure. */
const PRINTED = [
  [0, 101_325],
  [1000, 89_874.6],
  [2000, 79_495.2],
  [5000, 54_019.9],
  [11_000, 22_632.0],
] as const;

describe('the standard atmosphere', () => {
  test.each(PRINTED)('at %d m of geopotential has the printed pressure', (geopotential, pressure) => {
    expect(Math.abs(standardPressure(metres(geopotential)) - pressure)).toBeLessThan(0.1);
    expect(Math.abs(pressureAltitude(pascals(pressure)) - geopotential)).toBeLessThan(0.05);
  });

  // FAA-H-8083-25B, figure 4-3 ("Properties of standard atmosphere"), from memory: feet, inches of mercury.
  test.each([
    [1000, 28.86],
    [2000, 27.82],
    [3000, 26.82],
    [5000, 24.9],
    [10_000, 20.58],
  ])('at %d ft has %d inHg', (feet, inches) => {
    expect(standardPressure(metres(feet * FT)) / PRESSURE_UNITS.inHg).toBeCloseTo(inches, 1);
  });

  test.skipIf(!hasReferenceData(TABLE))(
    `has the pressures of the tables of ICAO Doc 7488/3 below 11 km (${NEEDS_REFERENCE_DATA})`,
    () => {
      const rows = JSON.parse(readFileSync(inReferenceData(TABLE), 'utf8')) as {
        h_m: number;
        H: number;
        pressure: number;
      }[];
      const low = rows.filter(({ H }) => H >= -5100 && H <= 11_000);
      expect(low.length).toBeGreaterThan(2);
      for (const { h_m, H, pressure } of low) {
        // The table rounds H to a metre, and the pressure to five or six digits.
        const perMetre = pressure * 0.00016;
        expect(Math.abs(standardPressure(metres(H)) - pressure)).toBeLessThan(0.6 * perMetre + pressure * 1e-5);
        expect(Math.abs(geometricAltitude(metres(H)) - h_m)).toBeLessThan(0.6);
      }
    },
  );
});

describe('a flight level and the QNH', () => {
  // FAA-H-8083-25B, chapter 11, sample problem 1: at an elevation of 5,883 ft with 30.10 inHg the correction is -165 ft.
  test('a pressure altitude of 5,718 ft lies at 5,883 ft with 30.10 inHg', () => {
    const altitude = altitudeOfLevel(metres(5718 * FT), pascals(30.1 * PRESSURE_UNITS.inHg)) / FT;
    expect(Math.abs(altitude - 5883)).toBeLessThan(3);
  });

  // Knowledge-test items of the FAA, from memory: elevation, setting, pressure altitude; the key rounds by up to 3 ft.
  test.each([
    [1386, 29.97, 1341],
    [3563, 29.96, 3527],
    [1380, 28.22, 2991],
  ])('%d ft at %d inHg is a pressure altitude of %d ft', (elevation, inches, level) => {
    const altitude = altitudeOfLevel(metres(level * FT), pascals(inches * PRESSURE_UNITS.inHg)) / FT;
    expect(Math.abs(altitude - elevation)).toBeLessThan(4);
  });

  test('with the standard setting a level is its altitude, up to the curvature of the earth', () => {
    expect(altitudeOfLevel(metres(6500 * FT), pascals(101_325)) / FT).toBeCloseTo(6502, 0);
  });
});

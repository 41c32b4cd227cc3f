import { describe, expect, test } from 'vitest';
import { celsiusOfFahrenheit, LENGTH_UNITS, PRESSURE_UNITS } from '../../server/src/units/convert.ts';
import { aboveSea, celsius, metres, pascals } from '../../server/src/units/frames.ts';
import {
  airDensity,
  densityAltitude,
  pressureAltitudeAt,
  standardPressure,
  temperatureAt,
} from '../../server/src/units/standard-atmosphere.ts';

const feet = (n: number): number => n * LENGTH_UNITS.ft;
const inFeet = (m: number): number => m / LENGTH_UNITS.ft;

/** ICAO Doc 7488/3, table of the standard atmosphere (from memory): geopotential m, K, Pa, kg/m3. */
const TABLE = [
  [1000, 281.65, 89_874.6, 1.11164],
  [2000, 275.15, 79_495.2, 1.00649],
  [5000, 255.65, 54_019.9, 0.73612],
  [11_000, 216.65, 22_632.0, 0.36392],
] as const;

describe('the standard atmosphere', () => {
  test.each(TABLE)('at %d m has %d K, %d Pa and %d kg/m3', (height, kelvin, pressure, density) => {
    const air = standardPressure(metres(height));
    expect(Math.abs(air - pressure)).toBeLessThan(0.1);
    const there = temperatureAt(celsius(15), aboveSea(0), aboveSea(height));
    expect(there).toBeCloseTo(kelvin - 273.15, 9);
    expect(Math.abs(airDensity(air, there) - density)).toBeLessThan(0.00001);
  });

  /** FAA-H-8083-25 chapter 4, properties of the standard atmosphere (from memory): ft, inHg, C. */
  test.each([
    [0, 29.92, 15],
    [1000, 28.86, 13],
    [5000, 24.9, 5.1],
    [10_000, 20.58, -4.8],
  ])('at %d ft has %d inHg and %d C', (height, inches, temperature) => {
    expect(Math.abs(standardPressure(metres(feet(height))) / PRESSURE_UNITS.inHg - inches)).toBeLessThan(0.006);
    expect(temperatureAt(celsius(15), aboveSea(0), aboveSea(feet(height)))).toBeCloseTo(temperature, 1);
  });

  test.each(TABLE)('in standard air at %d m the density altitude is that height', (height, kelvin, pressure) => {
    expect(Math.abs(densityAltitude(pascals(pressure), celsius(kelvin - 273.15)) - height)).toBeLessThan(0.05);
  });
});

const densityAltitudeAt = (elevation: number, inches: number, fahrenheit: number): number => {
  const pressure = standardPressure(
    pressureAltitudeAt(aboveSea(feet(elevation)), pascals(inches * PRESSURE_UNITS.inHg)),
  );
  return inFeet(densityAltitude(pressure, celsius(celsiusOfFahrenheit(fahrenheit))));
};

describe('density altitude', () => {
  /** FAA-H-8083-25 chapter 11, sample problem 1: read from a chart whose lines are 100 ft apart. */
  test('at 5,883 ft, 70 F and 30.10 inHg is 7,700 ft', () => {
    expect(Math.abs(densityAltitudeAt(5883, 30.1, 70) - 7700)).toBeLessThan(100);
  });

  /** FAA airman knowledge testing, items on density altitude (from memory); answers are read from the same chart. */
  test.each([
    [3894, 30.35, 25, 2000],
    [5250, 29.25, 81, 8500],
  ])('at %d ft, %d inHg and %d F is %d ft', (elevation, inches, fahrenheit, published) => {
    expect(Math.abs(densityAltitudeAt(elevation, inches, fahrenheit) - published)).toBeLessThan(100);
  });
});

/** FAA airman knowledge testing, items on pressure altitude (from memory). */
test.each([
  [1386, 29.97, 1341],
  [3563, 29.96, 3527],
  [1380, 28.22, 2991],
])('the pressure altitude of %d ft at %d inHg is %d ft', (elevation, inches, published) => {
  const altitude = inFeet(pressureAltitudeAt(aboveSea(feet(elevation)), pascals(inches * PRESSURE_UNITS.inHg)));
  expect(Math.abs(altitude - published)).toBeLessThan(2);
});

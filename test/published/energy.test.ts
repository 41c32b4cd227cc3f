import { describe, expect, test } from 'vitest';
import { airSpeedFor } from '../../server/src/facts/air-speed.ts';
import { shareAtTemperature } from '../../server/src/facts/battery-at-temperature.ts';
import { energySupply, powerAtSpeed, powerFactor } from '../../server/src/facts/energy-supply.ts';
import { flightEnergy } from '../../server/src/facts/flight-energy.ts';
import { windTriangle } from '../../server/src/facts/ground-speed.ts';
import { legWaysDown } from '../../server/src/facts/way-home.ts';
import { destination } from '../../server/src/geo/geodesy.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { celsius, lonLat, metresPerSecond, pascals } from '../../server/src/units/frames.ts';
import { airDensity } from '../../server/src/units/standard-atmosphere.ts';
import { LEVEL_GROUND, madePlan, worldWith } from '../facts/made-plan.ts';

const HEAD = `site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m } }
window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:40 -07:00 }
`;

/** Power was tried in thinner air than the flight's, so that nothing is added for it. */
const aircraft = (rest: string) =>
  worldWith([LEVEL_GROUND], {
    aircraft: readAircraft(
      `aircraft: 1\nname: a\nkind: multirotor\nclimb-rate: 4 m/s\ndescent-rate: 3 m/s\ntried: { density-altitude: 3000 m }\n${rest}`,
      'a.aircraft.yaml',
    ),
  });

describe('time that a pack lasts', () => {
  test('90.4 Wh, 80 % usable, 150.6 W: 28.81 min (vector collection of the trade, recomputed: E u / P)', () => {
    const world = aircraft(
      'cruise-speed: 10 m/s\nbattery: { nominal: 90.4 Wh, usable: 80 %, temperature: 20 C }\npower: { hover: 150.6 W, cruise: 150.6 W at 10 m/s, climb: 150.6 W }\n',
    );
    const { plan, tools } = madePlan(
      `${HEAD}route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - land: home\n`,
      world,
    );
    const [flight] = plan.flights;
    if (flight === undefined) throw new Error('no flight');
    const supply = tools.ask(energySupply, flight);
    expect(supply.usable).toBeCloseTo(90.4 * 3600 * 0.8, 6);
    expect(1 / supply.hover / 60).toBeCloseTo(28.81, 2);
  });

  test('a flight takes the sum of power and time: 60 s on 150 W, 15 s on 220 W, 20 s on 150 W of 72 Wh', () => {
    const world = aircraft(
      'cruise-speed: 10 m/s\nbattery: { nominal: 90 Wh, usable: 80 %, temperature: 20 C }\npower: { hover: 150 W, cruise: 150 W at 10 m/s, climb: 220 W }\n',
    );
    const weather = 'weather: { wind: { from: 0 deg, speed: 0 m/s } }\n';
    const { plan, tools } = madePlan(
      `${HEAD}${weather}route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - hold: 60 s\n  - land: home\n`,
      world,
    );
    const [flight] = plan.flights;
    if (flight === undefined) throw new Error('no flight');
    const { used, lacking } = tools.ask(flightEnergy, flight);
    // The landing takes the height of the item before it, and a hold has none.
    expect(lacking.map(({ missing }) => missing)).toEqual([]);
    expect(used * 72).toBeCloseTo((60 * 150 + 15 * 220 + 20 * 150) / 3600, 6);
  });
});

describe('the way home against the wind', () => {
  test('1.5 km at 15 m/s against 10 m/s on 180 W: 300 s, 15.0 Wh (vector collection of the trade, recomputed: d / (V - w))', () => {
    const far = destination(lonLat(-120.5, 47.5), 90, 1500);
    const world = aircraft(
      'cruise-speed: 15 m/s\nbattery: { nominal: 100 Wh, usable: 100 %, temperature: 20 C }\npower: { hover: 180 W, cruise: 180 W at 15 m/s, climb: 180 W }\n',
    );
    const weather = 'weather: { wind: { from: 270 deg, speed: 10 m/s } }\n';
    const { tools, legTo } = madePlan(
      `${HEAD}${weather}route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: far\n    at: ${far.lat}, ${far.lon}\n    altitude: 60 m AGL\n    leg: { speed: 15 m/s over ground }\n  - land: home\n`,
      world,
    );
    const [ways] = tools.ask(legWaysDown, legTo('far'));
    const descent = (20 * 180) / 3600;
    expect((ways?.end.home.energy ?? 0) * 100 - descent).toBeCloseTo(15, 2);
  });
});

describe('speed through the air for a speed over the ground', () => {
  // FAA-H-8083-25 chapter 16 and a published exam bank: track, ground speed, wind from and strength, airspeed; tolerance 1 kt.
  test.each([
    [90, 88, 45, 40, 120],
    [321, 123, 213, 21, 118],
  ])('track %i at %i kt in %i/%i: %i kt', (track, ground, from, wind, air) => {
    expect(airSpeedFor(track, metresPerSecond(ground), from, metresPerSecond(wind))).toBeGreaterThan(air - 1);
    expect(airSpeedFor(track, metresPerSecond(ground), from, metresPerSecond(wind))).toBeLessThan(air + 1);
  });

  test('is the inverse of the wind triangle', () => {
    for (let track = 0; track < 360; track += 17) {
      const triangle = windTriangle(track, metresPerSecond(12), 300, metresPerSecond(6));
      if (triangle.kind !== 'flown') throw new Error('not flown');
      expect(airSpeedFor(track, triangle.groundSpeed, 300, metresPerSecond(6))).toBeCloseTo(12, 9);
    }
  });
});

describe('power', () => {
  test('in thin air grows with the inverse root of the density: +12 % at a density altitude of 7,700 ft (ratio 0.79, computed)', () => {
    // ICAO Doc 7488/3 (from memory): 2,347 m have 0.794 of the density at sea level.
    expect(powerFactor(1, 1, 0.794 * 1.225, 1.225)).toBeCloseTo(1.122, 3);
    expect(powerFactor(1, 1, 1.3, 1.225)).toBe(1);
  });

  test('grows with the mass to the power of 3/2 (momentum theory): a fourth more mass takes 39.8 % more', () => {
    expect(powerFactor(5, 4, 1.225, 1.225)).toBeCloseTo(1.3975, 4);
    expect(powerFactor(3, 4, 1.225, 1.225)).toBe(1);
  });

  test('is taken from straight lines between tried figures, and grows with the cube beyond the fastest', () => {
    const span = { anchor: { document: 'a', at: 0 }, from: 0, to: 0 };
    const at = (power: number, speed: number) => ({ span, power, speed }) as never;
    const curve = [at(200, 16), at(160, 10)];
    expect(powerAtSpeed(curve, 150, 0)).toBe(150);
    expect(powerAtSpeed(curve, 150, 5)).toBe(155);
    expect(powerAtSpeed(curve, 150, 13)).toBe(180);
    expect(powerAtSpeed(curve, 150, 16)).toBe(200);
    expect(powerAtSpeed(curve, 150, 20)).toBeCloseTo(200 * 1.25 ** 3, 9);
    expect(powerAtSpeed(curve, undefined, 5)).toBe(160);
  });

  test('of the air itself: 1.225 kg/m3 at 15 C and 1013.25 hPa (ICAO Doc 7488/3, from memory)', () => {
    expect(airDensity(pascals(101_325), celsius(15))).toBeCloseTo(1.225, 4);
  });
});

test('a battery gives less in the cold: 10 to 30 % below 10 C (common practice, no source)', () => {
  expect(shareAtTemperature(celsius(20))).toBe(1);
  expect(shareAtTemperature(celsius(15))).toBe(1);
  expect(shareAtTemperature(celsius(10))).toBeCloseTo(0.9, 9);
  expect(shareAtTemperature(celsius(-10))).toBeCloseTo(0.7, 9);
  expect(shareAtTemperature(celsius(12.5))).toBeCloseTo(0.95, 9);
});

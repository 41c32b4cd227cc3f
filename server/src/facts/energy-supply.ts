import type { Aircraft, PowerAtSpeed } from '../plan/aircraft.ts';
import type { Flight } from '../plan/model.ts';
import { type Celsius, celsius, type MetresPerSecond, pascals } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { airDensity, pressureAltitudeAt, standardPressure, temperatureAt } from '../units/standard-atmosphere.ts';
import { isMissing } from '../world/world.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { shareAtTemperature } from './battery-at-temperature.ts';
import { measuredAt } from './density-altitude.ts';
import { defineFact, type FactTools, given, NotAssessed } from './fact.ts';
import { highestAltitude } from './highest-altitude.ts';
import { orLacking, requireWhole } from './lacking.ts';
import { qnhInWindow, temperatureInWindow } from './weather-in-window.ts';

/**
 * What a flight has to fly on, and what flying takes of it. Everything is a share of the usable energy, so that a battery
 * with powers and a bare endurance are judged alike.
 */
export interface EnergySupply {
  readonly of: 'battery' | 'endurance';
  /** Usable energy: joules of a battery, seconds of an endurance. */
  readonly usable: number;
  /** Shares a second. */
  readonly hover: number;
  readonly climb: number;
  readonly descent: number;
  /** Shares a second in level flight: the greatest between two speeds through the air. */
  level(least: MetresPerSecond, most: MetresPerSecond): number;
  /** Shares a second on the way home at a speed through the air; an endurance is taken as tried at the cruise speed. */
  wayHome(airSpeed: MetresPerSecond): number;
  /** Whether `level` depends on the speed. */
  readonly bySpeed: boolean;
}

/** Air so much warmer than standard, and a pressure so low, count where the plan does not give them. Common practice, no source. */
const WARMER = 25;
const LOW_QNH = pascals(98_000);
const STANDARD_SEA_LEVEL = 1.225;

/** The warmest air at the highest place of a flight, by the temperatures that are given, else above standard. */
const warmestAt = (flight: Flight, altitude: Parameters<typeof temperatureAt>[2], tools: FactTools): Celsius => {
  const above = celsius(15 + WARMER - 0.0065 * altitude);
  const given = orLacking(() => {
    const temperatures = tools.ask(temperatureInWindow, tools.plan);
    requireWhole(temperatures);
    return temperatures.values.map((each) => temperatureAt(each.value, measuredAt(each, flight, tools), altitude));
  });
  return isMissing(given) || given.known.length === 0 ? above : celsius(Math.max(...given.known));
};

/** Density of the air at the highest place of a flight, in kg/m3, on the thin side. */
export const thinnestAir = defineFact({
  name: 'thinnest-air',
  derive: (flight: Flight, tools: FactTools): number => {
    const high = tools.ask(highestAltitude, flight);
    requireWhole(high);
    if (high.highest === undefined) throw new NotAssessed('the flight has no place whose altitude is known');
    const { altitude } = high.highest;
    const pressures = orLacking(() => {
      const qnh = tools.ask(qnhInWindow, tools.plan);
      requireWhole(qnh);
      return qnh.values.map(({ value }) => value);
    });
    const known = isMissing(pressures) ? [] : pressures.known;
    const qnh = known.length === 0 ? LOW_QNH : pascals(Math.min(...known));
    const pressure = standardPressure(pressureAltitudeAt(altitude, qnh));
    return airDensity(pressure, warmestAt(flight, altitude, tools));
  },
});

/**
 * How much more power flight takes than when it was tried: a rotor's ideal power grows with its thrust to the power of 3/2
 * and with the inverse root of the density (momentum theory of the actuator disc; Leishman, Principles of Helicopter
 * Aerodynamics, chapter 2, from memory), and so does a wing's at one angle of attack. A lighter craft or denser air is not
 * counted as a gain.
 */
export const powerFactor = (mass: number, triedMass: number, density: number, triedDensity: number): number =>
  Math.max(1, (mass / triedMass) ** 1.5) * Math.max(1, Math.sqrt(triedDensity / density));

const standardDensity = (altitude: number): number =>
  STANDARD_SEA_LEVEL * (1 - (0.0065 * altitude) / 288.15) ** 4.255876;

const factorOf = (aircraft: Aircraft, flight: Flight, tools: FactTools): number => {
  const { tried } = aircraft;
  const triedDensity =
    tried?.densityAltitude === undefined ? STANDARD_SEA_LEVEL : standardDensity(tried.densityAltitude.value);
  const density = tools.ask(thinnestAir, flight);
  if (tried?.mass === undefined) return powerFactor(1, 1, density, triedDensity);
  return powerFactor(given(aircraft.mass, 'the mass of the aircraft').value, tried.mass.value, density, triedDensity);
};

/** Temperature of the cells: as the aircraft file has it, else of the coldest air of the window. */
const cellsOf = (aircraft: Aircraft, tools: FactTools): Celsius => {
  const own = aircraft.battery?.temperature;
  if (own !== undefined) return own.value;
  const air = tools.ask(temperatureInWindow, tools.plan);
  if (air.values.length === 0) {
    const [lack] = air.lacking;
    throw new NotAssessed(
      `neither the temperature of the air nor that of the battery is known${lack === undefined ? '' : `: ${lack.missing}`}`,
      lack?.due,
    );
  }
  requireWhole(air);
  return celsius(Math.min(...air.values.map(({ value }) => value)));
};

/**
 * Power in level flight at a speed through the air, from tried figures: straight lines between them and from the hover to
 * the slowest, which lie above the curve of any rotor or wing; beyond the fastest it grows with the cube of the speed, as
 * drag does.
 */
export const powerAtSpeed = (curve: readonly PowerAtSpeed[], hover: number | undefined, speed: number): number => {
  const knots = [
    ...(hover === undefined ? [] : [{ speed: 0, power: hover }]),
    ...[...curve].sort((one, other) => one.speed - other.speed),
  ];
  const last = knots[knots.length - 1];
  if (last === undefined) return Number.NaN;
  if (speed >= last.speed) return last.speed > 0 ? last.power * (speed / last.speed) ** 3 : last.power;
  const after = knots.findIndex((knot) => knot.speed > speed);
  const [low, high] = [knots[after - 1], knots[after]];
  if (low === undefined || high === undefined) return (high ?? last).power;
  return low.power + ((high.power - low.power) * (speed - low.speed)) / (high.speed - low.speed);
};

const mostPower = (curve: readonly PowerAtSpeed[], hover: number | undefined, least: number, most: number): number =>
  [least, most, ...curve.map(({ speed }) => speed).filter((speed) => speed > least && speed < most)].reduce(
    (power, speed) => Math.max(power, powerAtSpeed(curve, hover, speed)),
    0,
  );

const ofBattery = (aircraft: Aircraft, factor: number, cold: number): EnergySupply => {
  const { battery, power, kind } = aircraft;
  const nominal = given(battery?.nominal, 'the nominal energy of the battery').value;
  const usableShare = given(battery?.usable, 'the usable share of the battery').value;
  const usable = nominal * usableShare * (battery?.health?.value ?? 1) * cold;
  const cruise = power?.cruise ?? [];
  if (power === undefined || power.cruiseUnread) {
    throw new NotAssessed('the power of the aircraft in cruise is missing or could not be read');
  }
  const slowest = Math.min(...cruise.map(({ speed }) => speed));
  const hover =
    kind?.value === 'fixed-wing' ? undefined : given(power.hover, 'the power of the aircraft in the hover').value;
  const standing = hover ?? powerAtSpeed(cruise, undefined, slowest);
  const perSecond = factor / usable;
  return {
    of: 'battery',
    usable,
    hover: standing * perSecond,
    climb: given(power.climb, 'the power of the aircraft in a climb').value * perSecond,
    descent: standing * perSecond,
    level: (least, most) => mostPower(cruise, hover, least, most) * perSecond,
    wayHome: (airSpeed) => powerAtSpeed(cruise, hover, airSpeed) * perSecond,
    bySpeed: true,
  };
};

const ofEndurance = (aircraft: Aircraft, factor: number, cold: number): EnergySupply => {
  const tried = given(aircraft.endurance, 'the endurance of the aircraft, or its battery and power,').value;
  const { battery } = aircraft;
  const usable = tried * (battery?.usable?.value ?? 1) * (battery?.health?.value ?? 1) * cold;
  const perSecond = factor / usable;
  return {
    of: 'endurance',
    usable,
    hover: perSecond,
    climb: perSecond,
    descent: perSecond,
    level: () => perSecond,
    wayHome: (airSpeed) => perSecond * Math.max(1, (airSpeed / (aircraft.cruiseSpeed?.value ?? airSpeed)) ** 3),
    bySpeed: false,
  };
};

/**
 * What a flight has to fly on: nominal energy times usable share, health and what the cells give at their temperature, with
 * the powers of the aircraft file; without powers its endurance, which is then the same in every phase. Powers and
 * endurance are brought from the mass and density they were tried at to those of this flight. A descent counts as a hover.
 */
export const energySupply = defineFact({
  name: 'energy-supply',
  derive: (flight: Flight, tools: FactTools): EnergySupply => {
    const aircraft = aircraftOfPlan(tools);
    if (aircraft.power === undefined)
      given(aircraft.endurance, 'the endurance of the aircraft, or its battery and power,');
    const cold = shareAtTemperature(cellsOf(aircraft, tools));
    const factor = factorOf(aircraft, flight, tools);
    return aircraft.power === undefined ? ofEndurance(aircraft, factor, cold) : ofBattery(aircraft, factor, cold);
  },
});

/** `31.2 % (22.6 Wh)`, `31.2 % (7.8 min)` */
export const sayEnergy = ({ of, usable }: EnergySupply, share: number, decimals = 1): string => {
  const whole =
    of === 'battery' ? `${sayNumber((share * usable) / 3600)} Wh` : `${sayNumber((share * usable) / 60)} min`;
  return `${sayNumber(share * 100, decimals)} % (${whole})`;
};

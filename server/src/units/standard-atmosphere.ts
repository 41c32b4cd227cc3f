import {
  aboveSea,
  type Celsius,
  celsius,
  type Metres,
  type MetresAboveSea,
  metres,
  type Pascals,
  pascals,
} from './frames.ts';

/**
 * The standard atmosphere below 11 km (ICAO Doc 7488/3, from memory; checked against its published tables): temperature
 * falls linearly from 288.15 K at mean sea level, and pressure follows from the weight of the air.
 */
const SEA_LEVEL_PRESSURE = 101_325;
const SEA_LEVEL_TEMPERATURE = 288.15;
const LAPSE = 0.0065;
/** g0 / (R L), with 9.80665 m/s2 and 287.05287 J/(kg K). */
const EXPONENT = 9.80665 / (287.05287 * LAPSE);
/** Radius that turns geopotential into geometric altitude. */
const NOMINAL_RADIUS = 6_356_766;

/** Geopotential altitude in metres at which the standard atmosphere has a pressure. */
export const pressureAltitude = (pressure: Pascals): Metres =>
  metres((SEA_LEVEL_TEMPERATURE / LAPSE) * (1 - (pressure / SEA_LEVEL_PRESSURE) ** (1 / EXPONENT)));

/** Pressure of the standard atmosphere at a geopotential altitude. */
export const standardPressure = (geopotential: Metres): Pascals =>
  pascals(SEA_LEVEL_PRESSURE * (1 - (LAPSE * geopotential) / SEA_LEVEL_TEMPERATURE) ** EXPONENT);

const GAS_CONSTANT = 287.05287;
const ZERO_CELSIUS = 273.15;

/** Density of dry air in kg/m3. */
export const airDensity = (pressure: Pascals, temperature: Celsius): number =>
  pressure / (GAS_CONSTANT * (temperature + ZERO_CELSIUS));

/**
 * Density altitude: the geopotential altitude in metres at which the standard atmosphere has the density of this air.
 * Humidity is not in it; saturated air at 30 C counts some 150 m more (from memory).
 */
export const densityAltitude = (pressure: Pascals, temperature: Celsius): Metres => {
  const seaLevel = SEA_LEVEL_PRESSURE / (GAS_CONSTANT * SEA_LEVEL_TEMPERATURE);
  const ratio = airDensity(pressure, temperature) / seaLevel;
  return metres((SEA_LEVEL_TEMPERATURE / LAPSE) * (1 - ratio ** (1 / (EXPONENT - 1))));
};

/** Pressure altitude of a place while altimeters are set to a QNH: its elevation, and what the QNH adds. */
export const pressureAltitudeAt = (altitude: MetresAboveSea, qnh: Pascals): Metres =>
  metres(altitude + pressureAltitude(qnh));

/** Temperature at another altitude by the lapse of the standard atmosphere. */
export const temperatureAt = (measured: Celsius, from: MetresAboveSea, to: MetresAboveSea): Celsius =>
  celsius(measured - LAPSE * (to - from));

/** Geometric altitude of a geopotential one. */
export const geometricAltitude = (geopotential: Metres): Metres =>
  metres((NOMINAL_RADIUS * geopotential) / (NOMINAL_RADIUS - geopotential));

/**
 * Where a pressure altitude lies above mean sea level while altimeters are set to a QNH: the standard atmosphere, shifted
 * so that it has that pressure at sea level. Air warmer or colder than standard lies higher or lower by some 4 percent
 * of the height for each 10 degrees (from memory); that is not in it.
 */
export const altitudeOfLevel = (level: Metres, qnh: Pascals): MetresAboveSea =>
  aboveSea(geometricAltitude(metres(level - pressureAltitude(qnh))));

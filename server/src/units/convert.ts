/**
 * Exact conversion factors to SI.
 * Sources: the international foot, mile, pound and nautical mile as in NIST SP 811 (2008) app. B and ICAO Annex 5
 * (from memory; the derived limits are checked against 14 CFR part 107 in test/published).
 */
export const LENGTH_UNITS = { m: 1, mm: 0.001, cm: 0.01, km: 1000, ft: 0.3048, mi: 1609.344, NM: 1852 } as const;
export const SPEED_UNITS = { 'm/s': 1, 'km/h': 1 / 3.6, kt: 1852 / 3600, mph: 0.44704 } as const;
export const TIME_UNITS = { s: 1, min: 60, h: 3600, d: 86_400 } as const;
/** The inch of mercury at 0 degrees Celsius: NIST SP 811 (2008) app. B.8. */
export const PRESSURE_UNITS = { hPa: 100, inHg: 3386.389 } as const;
/** A watt is a joule a second, so a watt-hour is 3600 J: the SI Brochure (9th edition), from memory. */
export const ENERGY_UNITS = { Wh: 3600, kWh: 3_600_000 } as const;
export const POWER_UNITS = { W: 1, kW: 1000 } as const;
/** A share of a whole, as a number from 0 to 1. */
export const SHARE_UNITS = { '%': 0.01 } as const;
/** People or things on a square kilometre of ground. */
export const DENSITY_UNITS = { '/km2': 1 } as const;
export const SURFACE_UNITS = { m2: 1, cm2: 0.0001 } as const;
export const MASS_UNITS = { kg: 1, g: 0.001, lb: 0.45359237, oz: 0.028349523125 } as const;

export type Dimension =
  | 'length'
  | 'speed'
  | 'time'
  | 'mass'
  | 'temperature'
  | 'angle'
  | 'pressure'
  | 'energy'
  | 'power'
  | 'share'
  | 'density'
  | 'surface';
export type LengthUnit = keyof typeof LENGTH_UNITS;
export type SpeedUnit = keyof typeof SPEED_UNITS;
export type TimeUnit = keyof typeof TIME_UNITS;
export type MassUnit = keyof typeof MASS_UNITS;
export type PressureUnit = keyof typeof PRESSURE_UNITS;
export type EnergyUnit = keyof typeof ENERGY_UNITS;
export type PowerUnit = keyof typeof POWER_UNITS;
export type ShareUnit = keyof typeof SHARE_UNITS;
export type DensityUnit = keyof typeof DENSITY_UNITS;
export type SurfaceUnit = keyof typeof SURFACE_UNITS;
export type TemperatureUnit = 'C' | 'F';
export type AngleUnit = 'deg';
export type UnitName =
  | LengthUnit
  | SpeedUnit
  | TimeUnit
  | MassUnit
  | PressureUnit
  | EnergyUnit
  | PowerUnit
  | ShareUnit
  | DensityUnit
  | SurfaceUnit
  | TemperatureUnit
  | AngleUnit;

/** Degrees Celsius of a temperature in degrees Fahrenheit. */
export const celsiusOfFahrenheit = (f: number): number => (f - 32) / 1.8;

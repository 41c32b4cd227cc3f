import coefficients from 'geomagnetism/data/wmm-2025.json';
import Model from 'geomagnetism/lib/model.js';
import { dateAt, startOfDay } from '../units/calendar.ts';
import { type Degrees, degrees, type Instant, type LonLat, type MetresAboveEllipsoid } from '../units/frames.ts';

/**
 * Where a compass points, by the World Magnetic Model 2025 of NOAA and the British Geological Survey: a spherical
 * harmonic series of degree 12 whose coefficients change evenly from year to year. Coefficients (public domain) and
 * their summation come from the package `geomagnetism`. The model knows the field of the earth's core only: iron nearby,
 * ore in the ground and magnetic storms turn a compass further.
 */

/** The model carried, and the decimal years for which it is published. */
export const MAGNETIC_MODEL = { name: 'WMM2025', from: 2025, until: 2030 } as const;

/** The World Magnetic Model is published for heights from 1 km below the ellipsoid to 850 km above it. */
const LOWEST = -1_000;
const HIGHEST = 850_000;

/**
 * Horizontal intensity in nT under which the publishers of the model mark a compass as not to be relied upon: the
 * "blackout zone" around the magnetic poles (World Magnetic Model, technical report; from memory).
 */
export const COMPASS_FAILS_BELOW = 2_000;

export interface MagneticVariation {
  /** Angle from true to magnetic north, east positive: magnetic course = true course - variation. */
  readonly value: Degrees;
  /** Strength of the part of the field that turns a compass, in nT. */
  readonly horizontalNanotesla: number;
  /** `WMM2025` */
  readonly model: string;
}

/** `2027.5` in the middle of 2027. A leap year's days are a little shorter parts of it. */
const decimalYear = (when: Instant): number => {
  const { year } = dateAt(when, 0);
  const start = startOfDay({ year, month: 1, day: 1 }, 0);
  const next = startOfDay({ year: year + 1, month: 1, day: 1 }, 0);
  return year + (when - start) / (next - start);
};

const isBetween = (value: number, least: number, most: number): boolean => value >= least && value <= most;

/** Coefficients some years after the model's epoch. */
const after = (years: number, main: readonly number[], yearly: readonly number[]): readonly number[] =>
  main.map((value, index) => value + years * (yearly[index] ?? 0));

/**
 * Magnetic variation (declination) at a place, height above the WGS 84 ellipsoid and time. Nothing outside the years and
 * heights for which the model is published, or where the place is no place.
 */
export const magneticVariation = (
  at: LonLat,
  altitude: MetresAboveEllipsoid,
  when: Instant,
): MagneticVariation | undefined => {
  const year = decimalYear(when);
  if (!isBetween(year, MAGNETIC_MODEL.from, MAGNETIC_MODEL.until)) return undefined;
  if (!isBetween(altitude, LOWEST, HIGHEST)) return undefined;
  if (!isBetween(at.lat, -90, 90) || !Number.isFinite(at.lon)) return undefined;
  const years = year - coefficients.epoch;
  const field = new Model({
    n_max: coefficients.n_max,
    main_field_coeff_g: after(years, coefficients.main_field_coeff_g, coefficients.secular_var_coeff_g),
    main_field_coeff_h: after(years, coefficients.main_field_coeff_h, coefficients.secular_var_coeff_h),
  }).point([at.lat, at.lon, altitude / 1000]);
  return { value: degrees(field.decl), horizontalNanotesla: field.h, model: MAGNETIC_MODEL.name };
};

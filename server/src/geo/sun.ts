import { type Degrees, degrees, type Instant, instant, type LonLat } from '../units/frames.ts';

/**
 * Where the sun stands, by the low-accuracy series of J. Meeus, Astronomical Algorithms (2nd ed. 1998), ch. 22, 25 and 28,
 * in the form in which NOAA's Global Monitoring Laboratory publishes them for sunrise and sunset (0.01° between 1900 and
 * 2100). Universal time stands for dynamical time: the minute between them moves the sun by 0.0008°.
 */

/**
 * Altitude of the sun's centre, without refraction, at official sunrise and sunset: zenith distance 90° 50', which is 34'
 * of refraction and 16' of radius. U.S. Naval Observatory, "Rise, Set, and Twilight Definitions".
 */
export const SUNRISE_ALTITUDE: Degrees = degrees(-50 / 60);

/** The same at the beginning of morning and the end of evening civil twilight (U.S. Naval Observatory, as above). */
export const CIVIL_TWILIGHT_ALTITUDE: Degrees = degrees(-6);

/** Years in which the series holds to 0.01°. */
export const SUN_YEARS = { first: 1900, last: 2100 } as const;

const RADIANS = Math.PI / 180;
const sin = (deg: number): number => Math.sin(deg * RADIANS);
const cos = (deg: number): number => Math.cos(deg * RADIANS);

const MINUTE = 60_000;
const DAY = 86_400_000;
/** 2000-01-01 12:00, in milliseconds since 1970. */
const J2000 = 946_728_000_000;

export interface SunPlace {
  readonly declination: Degrees;
  /** Apparent minus mean solar time. */
  readonly equationOfTimeMinutes: number;
}

/** Declination of the sun and equation of time at an instant. */
export const sunPlace = (at: Instant): SunPlace => {
  const t = (at - J2000) / (36_525 * DAY);
  const meanLongitude = (280.46646 + t * (36_000.76983 + 0.0003032 * t)) % 360;
  const anomaly = (357.52911 + t * (35_999.05029 - 0.0001537 * t)) % 360;
  const eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
  const centre =
    sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
    sin(2 * anomaly) * (0.019993 - 0.000101 * t) +
    sin(3 * anomaly) * 0.000289;
  const node = (125.04 - 1934.136 * t) % 360;
  const longitude = meanLongitude + centre - 0.00569 - 0.00478 * sin(node);
  const meanObliquity = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t))) / 60) / 60;
  const obliquity = meanObliquity + 0.00256 * cos(node);
  const y = Math.tan((obliquity / 2) * RADIANS) ** 2;
  const equation =
    y * sin(2 * meanLongitude) -
    2 * eccentricity * sin(anomaly) +
    4 * eccentricity * y * sin(anomaly) * cos(2 * meanLongitude) -
    0.5 * y * y * sin(4 * meanLongitude) -
    1.25 * eccentricity * eccentricity * sin(2 * anomaly);
  return {
    declination: degrees(Math.asin(sin(obliquity) * sin(longitude)) / RADIANS),
    equationOfTimeMinutes: (4 * equation) / RADIANS,
  };
};

/** Sine of the altitude of the sun's centre: smooth in time, also where the sun passes the zenith. */
const heightOfSun = (at: number, { lon, lat }: LonLat): number => {
  const { declination, equationOfTimeMinutes } = sunPlace(instant(at));
  const solarMinutes = at / MINUTE - 1440 * Math.floor(at / DAY) + equationOfTimeMinutes + 4 * lon;
  const hourAngle = solarMinutes / 4 - 180;
  return sin(lat) * sin(declination) + cos(lat) * cos(declination) * cos(hourAngle);
};

/** Altitude of the sun's centre above the horizontal plane of a place, without refraction, in degrees. */
export const sunAltitude = (at: Instant, place: LonLat): Degrees =>
  degrees(Math.asin(Math.max(-1, Math.min(1, heightOfSun(at, place)))) / RADIANS);

/** The sun's centre passes an altitude, upwards or downwards. */
export interface SunCrossing {
  readonly at: Instant;
  readonly direction: 'up' | 'down';
}

/** Between two steps of the search the sun turns at most once from rising to sinking or back; it does so twice a day. */
const STEP = 60 * MINUTE;
/** Roots are narrowed to a millisecond. */
const FINE = 1;
/** Half the width over which the search looks whether the sun rises or sinks. */
const SLOPE = 15_000;

/** Narrows the place where a function changes its sign between two times. */
const narrow = (from: number, until: number, signAt: (at: number) => boolean): number => {
  const before = signAt(from);
  let [low, high] = [from, until];
  while (high - low > FINE) {
    const middle = (low + high) / 2;
    if (signAt(middle) === before) low = middle;
    else high = middle;
  }
  return high;
};

/**
 * The times at which the sun's centre passes an altitude at a place, in order, from one instant to another. Nothing comes
 * where it stays on one side: polar day, polar night, or twilight all night. Looked for where they are, not day by day,
 * so that a sun that sets after midnight, twice in a day of the calendar or not at all is no case of its own.
 */
export function* sunCrossings(place: LonLat, altitude: Degrees, from: Instant, until: Instant): Generator<SunCrossing> {
  const level = sin(altitude);
  const isUp = (at: number): boolean => heightOfSun(at, place) >= level;
  const isRising = (at: number): boolean => heightOfSun(at + SLOPE, place) >= heightOfSun(at - SLOPE, place);
  for (let start: number = from; start < until; start += STEP) {
    const end = Math.min(start + STEP, until);
    const turn = isRising(start) === isRising(end) ? end : narrow(start, end, isRising);
    const pieces = turn < end ? [start, turn, end] : [start, end];
    for (const [i, piece] of pieces.slice(0, -1).entries()) {
      const next = pieces[i + 1] ?? end;
      const up = isUp(piece);
      if (up !== isUp(next)) yield { at: instant(narrow(piece, next, isUp)), direction: up ? 'down' : 'up' };
    }
  }
}

/** A stretch of time during which the sun's centre is lower than an altitude; an absent end lies outside the search. */
export interface SunBelow {
  readonly sets?: Instant;
  readonly rises?: Instant;
}

/** The stretches below an altitude that reach into a span of time, in order. One without ends fills the whole of it. */
export function* timesBelow(place: LonLat, altitude: Degrees, from: Instant, until: Instant): Generator<SunBelow> {
  let below: SunBelow | undefined = heightOfSun(from, place) < sin(altitude) ? {} : undefined;
  for (const { at, direction } of sunCrossings(place, altitude, from, until)) {
    if (direction === 'down') below = { sets: at };
    else {
      yield { ...below, rises: at };
      below = undefined;
    }
  }
  if (below !== undefined) yield below;
}

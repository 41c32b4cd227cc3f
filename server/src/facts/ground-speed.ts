import type { Leg } from '../plan/model.ts';
import { type Degrees, degrees, type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import type { ReportedWind } from '../world/weather-report.ts';
import { lackingWeather } from './due.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { requireWhole } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import type { Stated } from './stated-weather.ts';
import { windInWindow } from './weather-in-window.ts';

/** Holding a track in wind. Angles in degrees, speeds in one unit. */
export type WindTriangle =
  | {
      readonly kind: 'flown';
      readonly groundSpeed: MetresPerSecond;
      /** Degrees to steer right of the track, negative to the left. */
      readonly correction: Degrees;
    }
  /** The wind across the track is stronger than the craft flies, or it blows the craft backwards. */
  | { readonly kind: 'cannot-hold' };

/** Slower than a millimetre a second is the arithmetic's: the craft stands still. */
const STANDSTILL = 0.001;

/**
 * Ground speed along a track. `windFrom` is the direction the wind blows from, clockwise from true north as the track.
 * Source: the wind triangle of FAA-H-8083-25 (Pilot's Handbook of Aeronautical Knowledge) chapter 16.
 */
export const windTriangle = (
  track: number,
  airSpeed: MetresPerSecond,
  windFrom: number,
  windSpeed: MetresPerSecond,
): WindTriangle => {
  const angle = ((windFrom - track) * Math.PI) / 180;
  const across = windSpeed * Math.sin(angle);
  if (Math.abs(across) > airSpeed) return { kind: 'cannot-hold' };
  const groundSpeed = Math.sqrt(airSpeed * airSpeed - across * across) - windSpeed * Math.cos(angle);
  if (!(groundSpeed > STANDSTILL)) return { kind: 'cannot-hold' };
  const correction = airSpeed > 0 ? (Math.asin(across / airSpeed) * 180) / Math.PI : 0;
  return { kind: 'flown', groundSpeed: metresPerSecond(groundSpeed), correction: degrees(correction) };
};

export type GroundSpeed =
  /** Written over ground: that is what is flown, whatever the wind. */
  | { readonly kind: 'as-written'; readonly fastest: MetresPerSecond; readonly slowest: MetresPerSecond }
  | {
      readonly kind: 'from-wind';
      readonly fastest: MetresPerSecond;
      readonly slowest: MetresPerSecond;
      /** The wind that makes it fastest: steady or gust. */
      readonly fastestIn: 'wind' | 'gust';
      /** Who gives that wind: "this plan", or a report. */
      readonly by: string;
    }
  /** The craft cannot hold the leg's track in this wind. */
  | {
      readonly kind: 'cannot-hold';
      readonly in: 'wind' | 'gust';
      readonly strength: MetresPerSecond;
      /** Absent where the wind blows from anywhere. */
      readonly from?: Degrees;
      readonly wind: Stated<ReportedWind>;
    };

/** The steady wind and, where it is stronger, the gust of one stated wind. */
const strengthsOf = ({ value }: Stated<ReportedWind>): readonly (readonly ['wind' | 'gust', MetresPerSecond])[] =>
  value.gust !== undefined && value.gust !== value.speed
    ? [
        ['wind', value.speed],
        ['gust', value.gust],
      ]
    : [['wind', value.speed]];

/** A wind that blows from anywhere may stand in the nose or the tail. */
const trianglesOf = (
  course: number,
  airSpeed: MetresPerSecond,
  from: Degrees | undefined,
  strength: MetresPerSecond,
): readonly WindTriangle[] =>
  (from === undefined ? [course, course + 180] : [from]).map((each) => windTriangle(course, airSpeed, each, strength));

const inWinds = (course: number, airSpeed: MetresPerSecond, winds: readonly Stated<ReportedWind>[]): GroundSpeed => {
  let fastest = Number.NEGATIVE_INFINITY;
  let slowest = Number.POSITIVE_INFINITY;
  let fastestIn: 'wind' | 'gust' = 'wind';
  let by = '';
  for (const wind of winds) {
    const { from } = wind.value;
    for (const [name, strength] of strengthsOf(wind)) {
      for (const triangle of trianglesOf(course, airSpeed, from, strength)) {
        if (triangle.kind === 'cannot-hold') {
          return { kind: 'cannot-hold', in: name, strength, wind, ...(from !== undefined && { from }) };
        }
        slowest = Math.min(slowest, triangle.groundSpeed);
        if (triangle.groundSpeed <= fastest) continue;
        fastest = triangle.groundSpeed;
        fastestIn = name;
        by = wind.by;
      }
    }
  }
  return { kind: 'from-wind', fastest: metresPerSecond(fastest), slowest: metresPerSecond(slowest), fastestIn, by };
};

/**
 * Speed over the ground with an airspeed along a course, in every wind that is stated for the window; the worse of steady
 * wind and gust counts on either side.
 */
export const groundSpeedInWinds = (course: number, airSpeed: MetresPerSecond, tools: FactTools): GroundSpeed => {
  const { wind } = tools.plan.weather;
  if (wind !== undefined) given(wind.from, 'the direction of the wind');
  const winds = tools.ask(windInWindow, tools.plan);
  requireWhole(winds);
  if (winds.values.length === 0) throw lackingWeather(tools.plan, 'the plan gives no wind');
  return inWinds(course, airSpeed, winds.values);
};

/**
 * Speed over the ground on a leg; undefined where the plan gives the leg no speed. Through air it takes every wind that is
 * stated for the window, and the worse of steady wind and gust counts on either side. The track is the leg's course at its
 * start; over a leg that a drone can fly it turns by a few tenths of a degree.
 */
export const groundSpeed = defineFact({
  name: 'ground-speed',
  derive: (leg: Leg, tools: FactTools): GroundSpeed | undefined => {
    const terms = leg.to.leg;
    if (terms?.speed === undefined) return undefined;
    const speed = terms.speed.value;
    const speedIs = given(
      terms.speedIs,
      `whether the speed of the leg to ${leg.to.id.value} is over ground or through air`,
    );
    if (speedIs === 'over ground') return { kind: 'as-written', fastest: speed, slowest: speed };
    return groundSpeedInWinds(tools.ask(pathOfLeg, leg).course, speed, tools);
  },
});

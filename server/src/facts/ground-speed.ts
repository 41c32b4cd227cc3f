import type { Leg } from '../plan/model.ts';
import { type Degrees, degrees, type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import { lackingWeather } from './due.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { pathOfLeg } from './leg-path.ts';

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
    }
  /** The craft cannot hold the leg's track in this wind. */
  | { readonly kind: 'cannot-hold'; readonly in: 'wind' | 'gust' };

/**
 * Speed over the ground on a leg; undefined where the plan gives the leg no speed. Through air it takes the wind, and the
 * worse of steady wind and gust counts on either side. The track is the leg's course at its start; over a leg that a
 * drone can fly it turns by a few tenths of a degree.
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
    const { wind } = tools.plan.weather;
    if (wind === undefined) throw lackingWeather(tools.plan, 'the plan gives no wind');
    const from = given(wind.from, 'the direction of the wind').value;
    const steadySpeed = given(wind.speed, 'the speed of the wind').value;
    const { course } = tools.ask(pathOfLeg, leg);
    const steady = windTriangle(course, speed, from, steadySpeed);
    if (steady.kind === 'cannot-hold') return { kind: 'cannot-hold', in: 'wind' };
    const gust = windTriangle(course, speed, from, wind.gust?.value ?? steadySpeed);
    if (gust.kind === 'cannot-hold') return { kind: 'cannot-hold', in: 'gust' };
    return {
      kind: 'from-wind',
      fastest: metresPerSecond(Math.max(steady.groundSpeed, gust.groundSpeed)),
      slowest: metresPerSecond(Math.min(steady.groundSpeed, gust.groundSpeed)),
      fastestIn: gust.groundSpeed > steady.groundSpeed ? 'gust' : 'wind',
    };
  },
});

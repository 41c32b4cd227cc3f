import type { Leg } from '../plan/model.ts';
import { type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import type { ReportedWind } from '../world/weather-report.ts';
import { lackingWeather } from './due.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { requireWhole } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import type { Stated } from './stated-weather.ts';
import { unstatedSpeed } from './unstated-speed.ts';
import { windInWindow } from './weather-in-window.ts';

/** Speed through the air in all winds of the window. */
export interface AirSpeed {
  readonly least: MetresPerSecond;
  readonly most: MetresPerSecond;
  /** The wind that makes it the most; absent where the speed is written through air. */
  readonly in?: {
    readonly kind: 'wind' | 'gust';
    readonly strength: MetresPerSecond;
    readonly wind: Stated<ReportedWind>;
  };
  /** The most of it in steady winds, gusts left out. */
  readonly mostSteady: MetresPerSecond;
}

const windsOf = (tools: FactTools): readonly Stated<ReportedWind>[] => {
  const winds = tools.ask(windInWindow, tools.plan);
  requireWhole(winds);
  if (winds.values.length === 0) throw lackingWeather(tools.plan, 'the plan gives no wind');
  return winds.values;
};

/** The strongest wind or gust of the window: the speed through the air of a craft that stays over one place. */
export const strongestWind = (tools: FactTools): MetresPerSecond =>
  metresPerSecond(
    windsOf(tools).reduce((most, { value }) => Math.max(most, value.speed, value.gust ?? value.speed), 0),
  );

/**
 * Speed through the air that a speed over the ground along a course takes in a wind: the length of the one vector less the
 * other. `from` is where the wind blows from, clockwise from true north. Source: the wind triangle of FAA-H-8083-25
 * (Pilot's Handbook of Aeronautical Knowledge) chapter 16.
 */
export const airSpeedFor = (
  course: number,
  overGround: MetresPerSecond,
  from: number,
  wind: MetresPerSecond,
): MetresPerSecond => {
  const angle = ((from - course) * Math.PI) / 180;
  return metresPerSecond(Math.hypot(overGround + wind * Math.cos(angle), wind * Math.sin(angle)));
};

const inWinds = (course: number, overGround: MetresPerSecond, tools: FactTools): AirSpeed => {
  let least = Number.POSITIVE_INFINITY;
  let [most, mostSteady] = [-1, 0];
  let worst: AirSpeed['in'];
  for (const wind of windsOf(tools)) {
    const { from, speed, gust } = wind.value;
    const directions = from === undefined ? [course, course + 180] : [from];
    for (const direction of directions) {
      const steady = airSpeedFor(course, overGround, direction, speed);
      const gusty = gust === undefined ? steady : airSpeedFor(course, overGround, direction, gust);
      mostSteady = Math.max(mostSteady, steady);
      least = Math.min(least, steady, gusty);
      if (Math.max(steady, gusty) <= most) continue;
      most = Math.max(steady, gusty);
      worst =
        gusty > steady ? { kind: 'gust', strength: gust ?? speed, wind } : { kind: 'wind', strength: speed, wind };
    }
  }
  return {
    least: metresPerSecond(least),
    most: metresPerSecond(most),
    mostSteady: metresPerSecond(mostSteady),
    ...(worst !== undefined && { in: worst }),
  };
};

/**
 * Speed through the air on a leg: as written, what its speed over the ground takes in every wind of the window, or that
 * of the aircraft file.
 */
export const legAirSpeed = defineFact({
  name: 'leg-air-speed',
  derive: (leg: Leg, tools: FactTools): AirSpeed => {
    const terms = leg.to.leg;
    if (terms?.speed === undefined) {
      const speed = tools.ask(unstatedSpeed, leg);
      return { least: speed, most: speed, mostSteady: speed };
    }
    const speed = terms.speed.value;
    const speedIs = given(
      terms.speedIs,
      `whether the speed of the leg to ${leg.to.id.value} is over ground or through air`,
    );
    if (speedIs === 'through air') return { least: speed, most: speed, mostSteady: speed };
    return inWinds(tools.ask(pathOfLeg, leg).course, speed, tools);
  },
});

import {
  type Metres,
  type MetresAboveGround,
  type MetresPerSecond,
  metres,
  metresPerSecond,
  type Seconds,
  seconds,
} from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { lackingWeather } from './due.ts';
import { type FactTools, given, NotAssessed } from './fact.ts';
import { groundSpeed } from './ground-speed.ts';
import type { Course } from './height-near-people.ts';
import { requireWhole } from './lacking.ts';
import { windInWindow } from './weather-in-window.ts';

/** Standard acceleration of free fall in m/s²: 3rd General Conference on Weights and Measures (1901), ISO 80000-3. */
export const FREE_FALL = 9.80665;

/** Time that a body dropped without air resistance takes to the ground: t = sqrt(2 h / g). */
export const fallTime = (height: MetresAboveGround): Seconds =>
  seconds(Math.sqrt((2 * Math.max(0, height)) / FREE_FALL));

/**
 * How far over the ground a craft may come down from where it fails: its speed over the ground and the wind, both for the
 * time of a free fall. A craft that the air holds back loses its own speed sooner and drifts with the wind for longer, so
 * that this is a bound for heavy craft and an estimate for light ones; one that still flies gets farther than either.
 */
export const fallReach = (height: MetresAboveGround, speed: MetresPerSecond, wind: MetresPerSecond): Metres =>
  metres((speed + wind) * fallTime(height));

/** Speeds that carry a falling craft away. */
export interface FallSpeeds {
  readonly speed: MetresPerSecond;
  readonly wind: MetresPerSecond;
}

const maxSpeed = ({ subject }: Course, { world }: FactTools): MetresPerSecond => {
  if (isMissing(world.aircraft)) throw new NotAssessed(world.aircraft.missing, world.aircraft.due);
  return given(world.aircraft.maxSpeed, `the plan gives no speed for ${subject}, and the max-speed of the aircraft`)
    .value;
};

const ownSpeed = (course: Course, wind: MetresPerSecond, tools: FactTools): MetresPerSecond => {
  const { leg, item } = course;
  if (leg === undefined) {
    if (item.kind === 'area') return item.area?.speed?.value ?? metresPerSecond(maxSpeed(course, tools) + wind);
    return metresPerSecond(0);
  }
  const flown = tools.ask(groundSpeed, leg);
  if (flown === undefined || flown.kind === 'cannot-hold') return metresPerSecond(maxSpeed(course, tools) + wind);
  return flown.fastest;
};

/** The strongest wind or gust that the plan or its reports give for the window. */
const strongestWind = ({ ask, plan }: FactTools): MetresPerSecond => {
  const winds = ask(windInWindow, plan);
  requireWhole(winds);
  if (winds.values.length === 0) throw lackingWeather(plan, 'the plan gives no wind');
  return metresPerSecond(
    winds.values.reduce((most, { value }) => Math.max(most, value.speed, value.gust ?? value.speed), 0),
  );
};

/** The fastest over the ground on a leg or in an area: as the plan has it, else the aircraft's greatest with the wind. */
export const fallSpeeds = (course: Course, tools: FactTools): FallSpeeds => {
  const wind = strongestWind(tools);
  return { speed: ownSpeed(course, wind, tools), wind };
};

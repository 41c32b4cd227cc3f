import {
  type Metres,
  type MetresAboveGround,
  type MetresPerSecond,
  metres,
  type Seconds,
  seconds,
} from '../units/frames.ts';
import { fastestOn, strongestWind } from './course-speed.ts';
import type { FactTools } from './fact.ts';
import type { Course } from './height-near-people.ts';

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

/** The fastest over the ground on a leg or in an area: as the plan has it, else the aircraft's greatest with the wind. */
export const fallSpeeds = (course: Course, tools: FactTools): FallSpeeds => {
  const wind = strongestWind(tools);
  return { speed: fastestOn(course, tools), wind };
};

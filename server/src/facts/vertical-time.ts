import { type MetresAboveSea, type Seconds, seconds } from '../units/frames.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { type FactTools, given } from './fact.ts';

/** Time that a change of altitude takes at the aircraft's rates, each way apart. */
export interface VerticalTime {
  readonly climbing: Seconds;
  readonly descending: Seconds;
}

export const LEVEL: VerticalTime = { climbing: seconds(0), descending: seconds(0) };

/** Less than a millimetre of height is the arithmetic's. */
const LEVEL_WITHIN = 0.001;

/** Time to climb or come down by so many metres. Level flight asks nothing of the aircraft file. */
export const verticalTimeOf = (up: number, down: number, tools: FactTools): VerticalTime => {
  const climbing =
    up > LEVEL_WITHIN ? up / given(aircraftOfPlan(tools).climbRate, 'the climb-rate of the aircraft').value : 0;
  const descending =
    down > LEVEL_WITHIN ? down / given(aircraftOfPlan(tools).descentRate, 'the descent-rate of the aircraft').value : 0;
  return { climbing: seconds(climbing), descending: seconds(descending) };
};

/** Time to get from one altitude to another. */
export const verticalTime = (from: MetresAboveSea, to: MetresAboveSea, tools: FactTools): VerticalTime =>
  verticalTimeOf(to - from, from - to, tools);

import type { Metres, MetresAboveGround, MetresPerSecond } from '../units/frames.ts';
import { aboveGround, metres } from '../units/frames.ts';
import {
  contingencySideways,
  contingencyUpwards,
  groundRiskBuffer,
  halfGeography,
  type Sideways,
  sumOf,
  usualBuffer,
  type VolumeCraft,
  volumeCraft,
} from './contingency-volume.ts';
import { fastestOn, strongestWind } from './course-speed.ts';
import { type FactTools, present } from './fact.ts';
import { flownSpeed } from './flown-speed.ts';
import type { Course } from './height-near-people.ts';
import { orLacking } from './lacking.ts';

/** The operational volume around one leg, hand-flown area or place: flight geography and contingency volume. */
export interface CourseVolume {
  readonly craft: VolumeCraft;
  /** Over the ground, as it is flown there. */
  readonly speed: MetresPerSecond;
  /** From the planned path, or the edge of a hand-flown area, to the edge of the flight geography. */
  readonly geography: Metres;
  readonly sideways: Sideways;
  /** From there to the edge of the contingency volume, and how far that reaches above the planned height. */
  readonly beside: Metres;
  readonly above: Metres;
}

/** A leg without a speed in the plan is flown at the aircraft's cruise speed, where its file has one. */
export const speedOn = (course: Course, tools: FactTools): MetresPerSecond => {
  const { leg } = course;
  if (leg === undefined || leg.to.leg?.speed !== undefined) return fastestOn(course, tools);
  const flown = orLacking(() => tools.ask(flownSpeed, leg));
  return 'missing' in flown || flown.known.kind === 'cannot-hold' ? fastestOn(course, tools) : flown.known.fastest;
};

/**
 * A hand-flown area is its own flight geography; around a line it is as narrow as the guidance allows. `NotAssessed`
 * without kind and size of the aircraft, or a speed.
 */
export const courseVolume = (course: Course, tools: FactTools): CourseVolume => {
  const craft = volumeCraft(present(tools.world.aircraft));
  const speed = speedOn(course, tools);
  const geography = course.leg === undefined && course.item.kind === 'area' ? metres(0) : halfGeography(craft);
  const sideways = contingencySideways(craft, speed);
  return {
    craft,
    speed,
    geography,
    sideways,
    beside: metres(geography + sumOf(sideways)),
    above: metres(geography + contingencyUpwards(craft, speed)),
  };
};

/** The ground risk buffer beyond the operational volume of a course that is flown at a height above ground. */
export const courseBuffer = (
  { craft, speed, above }: CourseVolume,
  height: MetresAboveGround,
  tools: FactTools,
): Metres => {
  const by = tools.plan.groundRisk?.buffer?.value ?? usualBuffer(craft);
  return groundRiskBuffer(craft, by, aboveGround(height + above), speed, () => strongestWind(tools));
};

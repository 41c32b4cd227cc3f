import { type MetresPerSecond, metresPerSecond } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { lackingWeather } from './due.ts';
import { type FactTools, given, NotAssessed } from './fact.ts';
import { groundSpeed } from './ground-speed.ts';
import type { Course } from './height-near-people.ts';
import { requireWhole } from './lacking.ts';
import { windInWindow } from './weather-in-window.ts';

/** The strongest wind or gust that the plan or its reports give for the window. */
export const strongestWind = ({ ask, plan }: FactTools): MetresPerSecond => {
  const winds = ask(windInWindow, plan);
  requireWhole(winds);
  if (winds.values.length === 0) throw lackingWeather(plan, 'the plan gives no wind');
  return metresPerSecond(
    winds.values.reduce((most, { value }) => Math.max(most, value.speed, value.gust ?? value.speed), 0),
  );
};

const fastestPossible = ({ subject }: Course, tools: FactTools): MetresPerSecond => {
  const { aircraft } = tools.world;
  if (isMissing(aircraft)) throw new NotAssessed(aircraft.missing, aircraft.due);
  const own = given(aircraft.maxSpeed, `the plan gives no speed for ${subject}, and the max-speed of the aircraft`);
  return metresPerSecond(own.value + strongestWind(tools));
};

/**
 * The fastest over the ground on a leg or in an area: as the plan has it, else the aircraft's greatest with the wind. Over
 * a place it hovers.
 */
export const fastestOn = (course: Course, tools: FactTools): MetresPerSecond => {
  const { leg, item } = course;
  if (leg === undefined) {
    if (item.kind !== 'area') return metresPerSecond(0);
    return item.area?.speed?.value ?? fastestPossible(course, tools);
  }
  const flown = tools.ask(groundSpeed, leg);
  return flown === undefined || flown.kind === 'cannot-hold' ? fastestPossible(course, tools) : flown.fastest;
};

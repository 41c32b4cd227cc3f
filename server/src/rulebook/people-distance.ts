import { type FactTools, given, NotAssessed, present } from '../facts/fact.ts';
import { groundSpeed } from '../facts/ground-speed.ts';
import type { Course } from '../facts/height-near-people.ts';
import { LOW_SPEED_MATTERS } from '../plan/people.ts';
import { exceeds } from '../units/exceeds.ts';
import { type Metres, type MetresPerSecond, metres, metresPerSecond } from '../units/frames.ts';
import type { PeopleArea } from '../world/people.ts';
import { isLandUse } from './people-law.ts';

/** Horizontal distance from people who take no part in A2, and with low-speed mode: (EU) 2019/947 UAS.OPEN.030(1). */
export const A2_DISTANCE = metres(30);
export const A2_LOW_SPEED_DISTANCE = metres(5);

/** Speed that low-speed mode keeps to: (EU) 2019/945 Annex Part 3, from memory. */
const LOW_SPEED = metresPerSecond(3);

/** Horizontal distance from residential, commercial, industrial and recreational areas in A3: UAS.OPEN.040(2). */
export const A3_AREA_DISTANCE = metres(150);

/** Least distance from a person in A3, and the time whose way at greatest speed is kept: guidance to UAS.OPEN.040. */
export const A3_PERSON_DISTANCE = metres(30);
export const A3_SECONDS = 2;

/** Whether the people of an area take no part, for the distances of the open category. */
export const isUninvolved = (area: PeopleArea): boolean => area.status !== 'participant' && !isLandUse(area);

const speedOf = ({ leg, item }: Course, tools: FactTools): MetresPerSecond | undefined => {
  if (leg !== undefined) {
    const flown = tools.ask(groundSpeed, leg);
    return flown === undefined || flown.kind === 'cannot-hold' ? undefined : flown.fastest;
  }
  return item.kind === 'area' ? item.area?.speed?.value : metresPerSecond(0);
};

export interface A2Limit {
  readonly distance: Metres;
  /** Why it is not the smaller one, where the plan speaks of low-speed mode. */
  readonly why?: string;
}

/** The distance that A2 asks on one way: the smaller one where the plan has all that it takes. Throws `NotAssessed`. */
export const a2Limit = (way: Course, tools: FactTools): A2Limit => {
  const mode = tools.plan.people?.lowSpeedMode;
  if (mode === undefined) return { distance: A2_DISTANCE };
  const missing = LOW_SPEED_MATTERS.filter((matter) => !mode.evaluated.some(({ value }) => value === matter));
  if (missing.length > 0 || mode.by === undefined) {
    const what = missing.length > 0 ? missing.join(' and ') : 'by whom';
    return { distance: A2_DISTANCE, why: `the evaluation for low-speed mode lacks ${what}` };
  }
  const speed = speedOf(way, tools);
  if (speed === undefined) return { distance: A2_DISTANCE, why: 'no speed is known here for low-speed mode' };
  if (exceeds(speed, LOW_SPEED)) {
    return { distance: A2_DISTANCE, why: `it is flown faster than the ${LOW_SPEED} m/s of low-speed mode` };
  }
  const has = given(present(tools.world.aircraft).lowSpeedMode, 'whether the aircraft has a low-speed mode');
  if (has.value === 'no') return { distance: A2_DISTANCE, why: 'the aircraft has no low-speed mode' };
  return { distance: A2_LOW_SPEED_DISTANCE };
};

/** Least distance from a person by guidance, whatever the height: nothing more in A2, 30 m or 2 s of flight in A3. */
export const guidanceFloor = (tools: FactTools): Metres => {
  if (tools.plan.category?.value === 'A2') return metres(0);
  if (tools.plan.category?.value !== 'A3') throw new NotAssessed('the guidance is for A2 and A3');
  const speed = given(present(tools.world.aircraft).maxSpeed, 'the max-speed of the aircraft').value;
  return metres(Math.max(A3_PERSON_DISTANCE, A3_SECONDS * speed));
};

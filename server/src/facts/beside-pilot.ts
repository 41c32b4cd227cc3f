import { distance } from '../geo/geodesy.ts';
import type { CrewMember } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { type FactTools, given } from './fact.ts';
import { sayMember } from './watchers.ts';

/** How far from the pilot an observer still stands beside: near enough to talk. Common practice, no source. */
export const BESIDE = metres(10);

/** Whether an observer stands beside the pilot. `NotAssessed` where one of the two does not say where to stand. */
export const isBesidePilot = (observer: CrewMember, pilot: CrewMember, { plan }: FactTools): boolean => {
  const stands = given(observer.stands, `the place where ${sayMember(observer)} stands`).value;
  if (stands === 'beside pilot') return true;
  const pilotStands = given(pilot.stands, 'the place where the pilot stands').value;
  if (stands === pilotStands) return true;
  const [observerAt, pilotAt] = [stands, pilotStands].map((place) =>
    typeof place === 'object' ? place : given(plan.site.takeOff?.at, 'the take-off place').value,
  );
  return observerAt !== undefined && pilotAt !== undefined && !exceeds(distance(observerAt, pilotAt), BESIDE);
};

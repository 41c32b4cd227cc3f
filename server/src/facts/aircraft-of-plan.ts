import type { Aircraft } from '../plan/aircraft.ts';
import { type FactTools, present } from './fact.ts';

/** The aircraft of the plan, or `NotAssessed` with the reason why its file is not there. */
export const aircraftOfPlan = ({ world }: FactTools): Aircraft => present(world.aircraft);

import type { Plan } from '../plan/model.ts';
import type { Missing, World } from './world.ts';

/** A plan that is flown on the same site, with the ground, aircraft and weather that it names itself. */
export interface Neighbour {
  /** The reference as the plan that names it has it. */
  readonly reference: string;
  readonly plan: Plan;
  readonly world: World;
}

export interface MissingNeighbour extends Missing {
  readonly reference: string;
}

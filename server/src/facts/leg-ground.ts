import type { GroundProfile } from '../geo/height-grid.ts';
import type { Leg } from '../plan/model.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { pathOfLeg } from './leg-path.ts';

/** The ground along a leg. Stretches without data are in it as such. */
export const legGround = defineFact({
  name: 'leg-ground',
  derive: (leg: Leg, tools: FactTools): GroundProfile =>
    present(tools.world.terrain).groundAlong(tools.ask(pathOfLeg, leg)),
});

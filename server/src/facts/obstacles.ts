import type { ListedObstacle, Plan } from '../plan/model.ts';
import { metres } from '../units/frames.ts';
import { type Obstacle, radiusAround } from '../world/obstacle.ts';
import { isMissing, type Missing } from '../world/world.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';

export interface Obstacles extends Partly {
  readonly obstacles: readonly Obstacle[];
}

const ofPlan = (listed: ListedObstacle): Obstacle => {
  const name = listed.name.value;
  const at = given(listed.at, `the position of obstacle ${name}`).value;
  const top = given(listed.top, `the top of obstacle ${name}`).value;
  const flags = { structure: listed.structure?.value === 'yes', guyWires: listed.guyWires?.value === 'yes' };
  if (listed.footprintSpan === undefined) return { name, at, top, radius: listed.radius?.value ?? metres(0), ...flags };
  const footprint = given(listed.footprint, `the footprint of obstacle ${name}`).map((corner) => corner.value);
  return { name, at, top, radius: radiusAround(at, footprint), footprint, ...flags };
};

/** All obstacles that are known: those in the plan first, then those in files. */
export const knownObstacles = defineFact({
  name: 'obstacles',
  derive: (plan: Plan, tools: FactTools): Obstacles => {
    const obstacles: Obstacle[] = [];
    const lacking: Missing[] = [];
    for (const listed of plan.obstacles?.kind === 'list' ? plan.obstacles.listed : []) {
      const obstacle = orLacking(() => ofPlan(listed));
      if ('missing' in obstacle) lacking.push(obstacle);
      else obstacles.push(obstacle.known);
    }
    const { obstacles: inFiles, obstaclesIncomplete } = tools.world;
    if (isMissing(inFiles)) lacking.push(inFiles);
    else obstacles.push(...inFiles);
    // What a file held and could not be read may stand anywhere on the way.
    if (obstaclesIncomplete !== undefined && !isMissing(inFiles)) lacking.push(obstaclesIncomplete);
    return { obstacles, lacking };
  },
});

import type { LonLat, MetresAboveSea } from '../units/frames.ts';
import { sayPosition } from '../units/say.ts';
import { type FactTools, NotAssessed, present } from './fact.ts';

/** Ground at a place in metres above mean sea level, or `NotAssessed` naming the place. */
export const groundAtPlace = (at: LonLat, name: string, tools: FactTools): MetresAboveSea => {
  const ground = present(tools.world.terrain).groundAt(at);
  if (ground === undefined) throw new NotAssessed(`the terrain has no data at ${name} (${sayPosition(at)})`);
  return ground;
};

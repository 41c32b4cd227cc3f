import { type LegPath, legPath } from '../geo/geodesy.ts';
import type { Leg } from '../plan/model.ts';
import { defineFact, type FactTools } from './fact.ts';
import { itemPlace } from './item-place.ts';

/** A leg's way over the ground: the geodesic between the places of its items. */
export const pathOfLeg = defineFact({
  name: 'leg-path',
  derive: (leg: Leg, tools: FactTools): LegPath =>
    legPath(tools.ask(itemPlace, leg.from), tools.ask(itemPlace, leg.to)),
});

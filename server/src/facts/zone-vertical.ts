import type { Item } from '../plan/model.ts';
import { type MetresAboveGround, type MetresAboveSea, onTakeOff } from '../units/frames.ts';
import type { ZoneEdge } from '../world/zone.ts';
import { type FactTools, NotAssessed } from './fact.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/** The floor or ceiling of a zone in a frame that geometry can use. `open` bounds nothing. */
export type VerticalEdge =
  | { readonly kind: 'open' }
  | { readonly kind: 'above-ground'; readonly height: MetresAboveGround }
  | { readonly kind: 'above-sea'; readonly altitude: MetresAboveSea };

/** `first` is the flight's first item: heights above take-off count from there. */
export const verticalEdge = (edge: ZoneEdge, zoneName: string, first: Item, tools: FactTools): VerticalEdge => {
  if (edge === 'surface' || edge === 'unlimited') return { kind: 'open' };
  if ('aboveGround' in edge) return { kind: 'above-ground', height: edge.aboveGround };
  if ('aboveSea' in edge) return { kind: 'above-sea', altitude: edge.aboveSea };
  if ('aboveTakeOff' in edge) {
    return { kind: 'above-sea', altitude: onTakeOff(tools.ask(takeOffElevation, first).value, edge.aboveTakeOff) };
  }
  throw new NotAssessed(
    `a height of zone ${zoneName} is above the ellipsoid, and bringing it to mean sea level needs a geoid grid`,
  );
};

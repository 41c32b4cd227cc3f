import type { FactTools } from '../facts/fact.ts';
import { groundAtPlace } from '../facts/ground-at-place.ts';
import { itemPlace } from '../facts/item-place.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import type { Item, WrittenHeight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type Metres, metres } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';

/** Metres by which a surveyed elevation and a raster may differ beyond the raster's own stated error. */
const ALLOWANCE = 5;

export interface ElevationGap {
  readonly at: Span;
  /** Written elevation minus the ground of the terrain. */
  readonly by: Metres;
  readonly ground: Metres;
}

/** How far the plan's take-off elevation is from the terrain there; undefined within the terrain's error. */
export const elevationGap = (first: Item, tools: FactTools): ElevationGap | undefined => {
  const { value, written } = tools.ask(takeOffElevation, first);
  const { terrain } = tools.world;
  if (written === undefined || isMissing(terrain) || first.kind !== 'take-off') return undefined;
  const ground = groundAtPlace(tools.ask(itemPlace, first), first.id.value, tools);
  const by = value - ground;
  return Math.abs(by) <= terrain.error + ALLOWANCE
    ? undefined
    : { at: written.span, by: metres(by), ground: metres(ground) };
};

/**
 * The cause of a wrong height that is written above take-off, where the take-off elevation itself contradicts the
 * terrain: one slip in one number must not come back from every point of the route.
 */
export const elevationToBlame = (
  item: Item,
  written: WrittenHeight,
  tools: FactTools,
): { readonly at: Span; readonly name: string } | undefined => {
  if (written.datum !== 'above take-off') return undefined;
  const gap = elevationGap(routePlaceOf(item, tools).flight.first, tools);
  return gap === undefined ? undefined : { at: gap.at, name: 'the take-off elevation' };
};

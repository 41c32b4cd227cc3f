import { type FactTools, present } from '../facts/fact.ts';
import { groundAtPlace } from '../facts/ground-at-place.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type Metres, metres } from '../units/frames.ts';

/** Metres by which a surveyed elevation and a raster may differ beyond the raster's own stated error. */
const ALLOWANCE = 5;

export interface ElevationGap {
  readonly at: Span;
  /** Written elevation minus the ground of the terrain. */
  readonly by: Metres;
  readonly ground: Metres;
}

/**
 * How far the plan's take-off elevation is from the terrain there; undefined within the terrain's error or where the plan
 * gives none. `NotAssessed` without terrain there.
 */
export const elevationGap = (first: Item, tools: FactTools): ElevationGap | undefined => {
  if (first.kind !== 'take-off') return undefined;
  const { value, written } = tools.ask(takeOffElevation, first);
  if (written === undefined) return undefined;
  const terrain = present(tools.world.terrain);
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
  // Where the take-off place has no ground to compare with, nobody is to blame; the finding itself stands.
  const gap = orLacking(() => elevationGap(routePlaceOf(item, tools).flight.first, tools));
  return 'missing' in gap || gap.known === undefined ? undefined : { at: gap.known.at, name: 'the take-off elevation' };
};

/** As `elevationToBlame`, for a leg: the height at either of its ends. */
export const elevationToBlameOnLeg = (
  leg: Leg,
  tools: FactTools,
): { readonly at: Span; readonly name: string } | undefined => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return undefined;
  const written = [craft.end.written, craft.start.written].find((one) => one?.datum === 'above take-off');
  return written === undefined ? undefined : elevationToBlame(leg.to, written, tools);
};

import type { Item } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type Metres, metres } from '../units/frames.ts';
import { type FactTools, present } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { itemPlace } from './item-place.ts';
import { takeOffElevation } from './take-off-elevation.ts';

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

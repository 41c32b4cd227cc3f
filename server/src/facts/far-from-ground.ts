import { legPath } from '../geo/geodesy.ts';
import type { Interval } from '../geo/interval.ts';
import { followingGround, type SurfaceVerdict, straightBetween } from '../geo/surface-verdict.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import type { LonLat, Metres, MetresAboveSea } from '../units/frames.ts';
import { sayDistance } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { type FactTools, NotAssessed, present } from './fact.ts';
import { heightAtItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';

/** Farther from the nearest ground than a limit: where, and how far there. */
export type FarFromGround = SurfaceVerdict & { readonly kind: 'over' };

/**
 * What is proven to be over the limit; undefined where all is within it, or nearer to it than the five centimetres to
 * which the search is certified. `NotAssessed` where ground that is not known could be near enough.
 */
const overOnly = (verdict: SurfaceVerdict, what: string): FarFromGround | undefined => {
  if (verdict.kind === 'unknown') {
    throw new NotAssessed(`the terrain has no data near a part of ${what}, and ground there could be near enough`);
  }
  if (verdict.kind === 'undecided') {
    throw new NotAssessed(
      `${what} stays so near to the limit from the nearest ground for so long that it was not followed beyond ${sayDistance(verdict.along)} along; cut it into shorter legs`,
    );
  }
  return verdict.kind === 'over' ? verdict : undefined;
};

/** Whether a craft at a place and an altitude is farther from the nearest ground than a limit. `what` names the place. */
export const placeFarFromGround = (
  at: LonLat,
  altitude: MetresAboveSea,
  what: string,
  limit: Metres,
  tools: FactTools,
): FarFromGround | undefined => {
  const here: readonly Interval[] = [{ from: 0, to: 0 }];
  const verdict = present(tools.world.terrain).farFromGround(legPath(at, at), altitude, altitude, here, limit);
  return overOnly(verdict, what);
};

/**
 * Whether the height written at an item is farther from the nearest ground than a limit, in three dimensions: the measure
 * of (EU) 2019/947 UAS.OPEN.010(2). Height over the ground straight below is never less, so ask only where that is over.
 */
export const itemFarFromGround = (
  item: Item,
  written: WrittenHeight,
  limit: Metres,
  tools: FactTools,
): FarFromGround | undefined => {
  const at = tools.ask(itemPlace, item);
  const altitude = heightAtItem(written, item, tools).aboveSea;
  return placeFarFromGround(at, altitude, item.id.value, limit, tools);
};

/**
 * As `itemFarFromGround` on stretches of a straight leg; the worst place of it. Of a long leg it takes a while, and pauses
 * every millisecond or a few.
 */
export function* legFarFromGround(
  leg: Leg,
  stretches: readonly Interval[],
  limit: Metres,
  tools: FactTools,
): Generator<void, FarFromGround | undefined> {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows' || stretches.length === 0) return undefined;
  const path = tools.ask(pathOfLeg, leg);
  const along = straightBetween(craft.start.aboveSea, craft.end.aboveSea, path.length);
  const verdict = yield* present(tools.world.terrain).farFromGroundSteps(path, along, stretches, limit);
  return overOnly(verdict, `leg ${leg.from.id.value} to ${leg.to.id.value}`);
}

/**
 * What can be proven of stretches of a leg that follows the terrain, at the upper end of what it may hold; lower down the
 * ground is never farther. Undefined without terrain, and for a straight leg.
 */
export function* followedFarFromGround(
  leg: Leg,
  stretches: readonly Interval[],
  limit: Metres,
  tools: FactTools,
): Generator<void, SurfaceVerdict | undefined> {
  const craft = tools.ask(legAltitudes, leg);
  const { terrain } = tools.world;
  if (craft.kind !== 'follows' || isMissing(terrain)) return undefined;
  const path = tools.ask(pathOfLeg, leg);
  const along = followingGround(tools.ask(legGround, leg), craft.height + craft.within);
  return yield* terrain.farFromGroundSteps(path, along, stretches, limit);
}

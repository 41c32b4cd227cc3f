import type { Item, WrittenHeight } from '../plan/model.ts';
import {
  type LonLat,
  type MetresAboveGround,
  type MetresAboveSea,
  onGround,
  onTakeOff,
  overGround,
} from '../units/frames.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { itemPlace } from './item-place.ts';
import { isPattern, patternPoints } from './pattern.ts';
import { type RoutePlace, routePlaceOf } from './route-order.ts';
import { fromEllipsoid } from './sea-level.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/** The craft's height at a place. */
export interface CraftHeight {
  readonly aboveSea: MetresAboveSea;
  /** Present where it was written above ground, and then as written: limits compare this, not the way round by the sea. */
  readonly aboveGround?: MetresAboveGround;
  /** What in the plan it comes from; absent for the ground itself. */
  readonly written?: WrittenHeight;
}

/**
 * Height on the leg that ends at the item and on the one that starts there. They differ only at an area. At a take-off
 * and a landing it is the upper end of the way straight up or down; the lower end is `groundOfItem`.
 */
export interface ItemHeight {
  readonly arriving: CraftHeight;
  readonly leaving: CraftHeight;
}

/** Ground at an item's place. At a take-off the plan's own elevation serves where the terrain has nothing. */
export const groundOfItem = (item: Item, at: LonLat, tools: FactTools): MetresAboveSea => {
  if (item.kind !== 'take-off') return groundAtPlace(at, item.id.value, tools);
  const { terrain } = tools.world;
  const ground = 'missing' in terrain ? undefined : terrain.groundAt(at);
  return ground ?? tools.ask(takeOffElevation, item).value;
};

/** A height as written, taken at an item's place. */
export const heightAtItem = (written: WrittenHeight, item: Item, tools: FactTools): CraftHeight => {
  const height = written.value;
  if ('aboveSea' in height) return { aboveSea: height.aboveSea, written };
  if ('aboveGround' in height) {
    const ground = groundOfItem(item, tools.ask(itemPlace, item), tools);
    return { aboveSea: onGround(ground, height.aboveGround), aboveGround: height.aboveGround, written };
  }
  if ('aboveTakeOff' in height) {
    const { first } = routePlaceOf(item, tools).flight;
    const elevation = tools.ask(takeOffElevation, first).value;
    return { aboveSea: onTakeOff(elevation, height.aboveTakeOff), written };
  }
  const at = tools.ask(itemPlace, item);
  return { aboveSea: fromEllipsoid(height.aboveEllipsoid, at, `the height of ${item.id.value}`, tools), written };
};

/**
 * The height that a neighbouring take-off or landing takes over from an item: a point's altitude; of an area the upper
 * end, because a craft that comes and goes stays above the things it was sent to look at.
 */
const heightToShare = (item: Item | undefined): WrittenHeight | undefined => {
  if (item === undefined) return undefined;
  if (item.kind === 'area') return item.area?.to;
  return item.kind === 'take-off' ? item.climbTo : item.altitude;
};

/** Straight up at the take-off place: to `climb-to`, else to the height of the next item as written. */
const ofTakeOff = (item: Item, order: RoutePlace, tools: FactTools): ItemHeight => {
  const written = given(item.climbTo ?? heightToShare(order.after), `the height that ${item.id.value} climbs to`);
  const height = heightAtItem(written, item, tools);
  return { arriving: height, leaving: height };
};

/** Above the landing place at the height of the item before as written, then straight down. */
const ofLanding = (item: Item, order: RoutePlace, tools: FactTools): ItemHeight => {
  const written = given(heightToShare(order.before), `the height at which ${item.id.value} is approached`);
  const height = heightAtItem(written, item, tools);
  return { arriving: height, leaving: height };
};

/** The height in a band that is nearest to the one the craft comes from or goes to. */
const nearestInBand = (from: CraftHeight, to: CraftHeight, other: MetresAboveSea): CraftHeight => {
  const [low, high] = from.aboveSea <= to.aboveSea ? [from, to] : [to, from];
  if (other <= low.aboveSea) return low;
  return other >= high.aboveSea ? high : { aboveSea: other };
};

/** Height of a neighbour that is fixed by itself; a landing or another area takes over this area's upper end instead. */
const fixedHeight = (neighbour: Item | undefined, tools: FactTools): CraftHeight | undefined => {
  if (neighbour === undefined || neighbour.altitude === undefined) return undefined;
  return heightAtItem(neighbour.altitude, neighbour, tools);
};

/**
 * An area is entered and left at its centre, at the height of its band that is nearest to the one the craft comes from
 * or goes to: level flight where that lies within the band, else the nearer end.
 */
const ofArea = (item: Item, order: RoutePlace, tools: FactTools): ItemHeight => {
  const from = heightAtItem(given(item.area?.from, `the lower height of ${item.id.value}`), item, tools);
  const to = heightAtItem(given(item.area?.to, `the upper height of ${item.id.value}`), item, tools);
  const upper = from.aboveSea <= to.aboveSea ? to : from;
  const { before, after } = order;
  const coming =
    before?.kind === 'area' || before?.kind === 'take-off'
      ? tools.ask(itemHeight, before).leaving
      : fixedHeight(before, tools);
  const going = fixedHeight(after, tools);
  return {
    arriving: coming === undefined ? upper : nearestInBand(from, to, coming.aboveSea),
    leaving: going === undefined ? upper : nearestInBand(from, to, going.aboveSea),
  };
};

/**
 * The craft's height at an item. Conventions for what a plan leaves open: from a take-off the craft climbs straight up,
 * to `climb-to` or else to the next item's height as written (60 m above ground is 60 m above the ground of the take-off
 * place), and then flies straight to it; a landing mirrors that. Common practice, no source.
 */
export const itemHeight = defineFact({
  name: 'item-height',
  derive: (item: Item, tools: FactTools): ItemHeight => {
    if (item.kind === 'take-off') return ofTakeOff(item, routePlaceOf(item, tools), tools);
    if (item.kind === 'land') return ofLanding(item, routePlaceOf(item, tools), tools);
    if (item.kind === 'area') return ofArea(item, routePlaceOf(item, tools), tools);
    const [first] = isPattern(item) ? tools.ask(patternPoints, item) : [];
    if (first !== undefined) return tools.ask(itemHeight, first);
    const height = heightAtItem(given(item.altitude, `the altitude of ${item.id.value}`), item, tools);
    return { arriving: height, leaving: height };
  },
});

/**
 * The height written for an item's own place. Undefined where a plan may leave it open (a take-off without `climb-to`) or
 * where another fact has it (an area); `NotAssessed` for a point whose altitude is missing or could not be read.
 */
export const ownHeight = (item: Item): WrittenHeight | undefined => {
  if (item.kind === 'take-off') return item.climbTo;
  return item.kind === 'point' ? given(item.altitude, `the altitude of ${item.id.value}`) : item.altitude;
};

/**
 * Height above the ground at an item's own place, by the height written for it (`climb-to` at a take-off): as written
 * where it is written above ground, which needs no terrain. For an area ask `area-height`.
 */
export const itemAboveGround = defineFact({
  name: 'item-above-ground',
  derive: (item: Item, tools: FactTools): MetresAboveGround => {
    const written = given(item.kind === 'take-off' ? item.climbTo : item.altitude, `the altitude of ${item.id.value}`);
    if ('aboveGround' in written.value) return written.value.aboveGround;
    const craft = heightAtItem(written, item, tools).aboveSea;
    return overGround(craft, groundOfItem(item, tools.ask(itemPlace, item), tools));
  },
});

import { bandOf } from '../facts/area-band.ts';
import { areaHeight } from '../facts/area-height.ts';
import { areaShape } from '../facts/area-shape.ts';
import { defineFact, type FactTools, NotAssessed, present } from '../facts/fact.ts';
import { heightAtItem } from '../facts/item-height.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { Steps } from '../facts/steps.ts';
import { type NearStructure, structuresAround } from '../facts/structures.ts';
import { type AreaPart, type AreaVerdict, judgeParts, type PartVerdict } from '../geo/area-parts.ts';
import { distance } from '../geo/geodesy.ts';
import { distanceToShape, insideShape, type Shape } from '../geo/shape.ts';
import type { Item } from '../plan/model.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import {
  aboveSea,
  type LonLat,
  type Metres,
  type MetresAboveGround,
  type MetresAboveSea,
  metres,
  onGround,
  overGround,
} from '../units/frames.ts';
import { footprintOf } from '../world/obstacle.ts';
import { isMissing, type Terrain } from '../world/world.ts';
import { type HeightLimit, heightLimit } from './height-limit.ts';
import { structureTerms } from './structure-exception.ts';

/** Whether the top of an area that is flown by hand is beyond the height limit anywhere in it. */
export type AreaBeyond =
  | { readonly kind: 'within' }
  /** Beyond it at a place; `distance` is that from the nearest ground, where that counts. */
  | {
      readonly kind: 'over';
      readonly at: LonLat;
      readonly height: MetresAboveGround;
      readonly distance?: Metres;
    }
  /** Too high above the ground below, and not proven to be near enough to other ground everywhere. */
  | { readonly kind: 'undecided'; readonly at: LonLat; readonly height: MetresAboveGround };

/** A distance that is more by this is not over the limit yet: `units/exceeds`. */
const TOLERANCE = 0.001;

/** How far the ground is looked for around a place that is over the limit, as a multiple of it. */
const FAR = 4;

/** Metres of the earth's surface fall away from its tangent plane by the square of the distance over this. */
const TWICE_EARTH_RADIUS = 2 * 6_371_000;

/** The upper end of an area's band over its ground. */
interface AreaTop {
  readonly shape: Shape;
  readonly ring: readonly LonLat[];
  readonly limit: HeightLimit;
  readonly terrain: Terrain;
  readonly structures: readonly NearStructure[];
  readonly reach: Metres;
  /** Altitude of the top at a place, and the highest of a part; undefined where it hangs on ground that is not known. */
  altitudeAt(at: LonLat): MetresAboveSea | undefined;
  highestOf(part: AreaPart): MetresAboveSea | undefined;
  heightAt(at: LonLat): MetresAboveGround | undefined;
}

const ceilingOf = ({ ceiling }: NearStructure, inFavour: boolean): number =>
  'known' in ceiling ? ceiling.known : inFavour ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;

/** Whether a structure lets the craft be at an altitude on all ground so near to a place. */
const isAllowed = (top: AreaTop, at: LonLat, around: number, altitude: number, inFavour: boolean): boolean =>
  top.structures.some(
    (structure) =>
      !exceeds(metres(altitude), metres(ceilingOf(structure, inFavour))) &&
      !exceeds(metres(distanceToShape(footprintOf(structure.obstacle), at) + around), top.reach),
  );

/** As `isAllowed` where the ground counts that is nearest in any direction: proven from the ground nearest to the centre. */
const isNearGround = (top: AreaTop, part: AreaPart, highest: MetresAboveSea): boolean => {
  const limit = metres(top.limit.value);
  const { nearest, unknown } = top.terrain.nearestGround(part.centre, highest, metres(limit + 1));
  if (nearest === undefined) return false;
  if (!unknown && nearest.distance + part.reach <= limit + TOLERANCE) return true;
  // A place of the ground that is near enough to the corners is so to all between, whatever lies nearer still.
  const level = Math.max(...part.corners.map((corner) => distance(corner, nearest.at)));
  const below = highest - nearest.ground + (level * level) / TWICE_EARTH_RADIUS;
  return Math.hypot(level, below) <= limit + TOLERANCE;
};

/** How far the craft is from what its limit counts from, at a place; undefined where that is not known. */
const measureAt = (top: AreaTop, at: LonLat, radius: number): number | undefined => {
  if (top.limit.from === 'ground below') return top.heightAt(at);
  const altitude = top.altitudeAt(at);
  if (altitude === undefined) return undefined;
  const { nearest, unknown } = top.terrain.nearestGround(at, altitude, metres(radius));
  return unknown ? undefined : (nearest?.distance ?? radius);
};

const isBeyondAt = (top: AreaTop, at: LonLat, inFavour: boolean): boolean => {
  const measure = measureAt(top, at, top.limit.value + 1);
  if (measure === undefined || !exceeds(metres(measure), metres(top.limit.value))) return false;
  const altitude = top.altitudeAt(at);
  return top.structures.length === 0 || (altitude !== undefined && !isAllowed(top, at, 0, altitude, inFavour));
};

const judgePart = (top: AreaTop, part: AreaPart, inFavour: boolean): PartVerdict => {
  const highest = top.highestOf(part);
  if (highest !== undefined) {
    const ground = top.terrain.rangeWithin(part.corners);
    const isLow = ground !== undefined && !exceeds(overGround(highest, ground.least), top.limit.value);
    if (isLow || isAllowed(top, part.centre, part.reach, highest, inFavour)) return 'proven';
    if (top.limit.from === 'nearest ground' && isNearGround(top, part, highest)) return 'proven';
  }
  return part.centred && isBeyondAt(top, part.centre, inFavour) ? { beyond: part.centre } : 'open';
};

/** Of the places that are beyond the limit for certain, the one that is so by most. */
const worstOf = (top: AreaTop, places: readonly LonLat[]): { at: LonLat; measure: number } | undefined => {
  let worst: { at: LonLat; measure: number } | undefined;
  for (const at of places) {
    if (!insideShape(top.shape, at) || !isBeyondAt(top, at, true)) continue;
    const measure = measureAt(top, at, FAR * top.limit.value) ?? measureAt(top, at, top.limit.value + 1);
    if (measure !== undefined && (worst === undefined || outdoes(measure, worst.measure))) worst = { at, measure };
  }
  return worst;
};

/** Places of a ring that are looked at for the worst. */
const CORNERS_SEEN = 32;

function* judgeTop(top: AreaTop, lowest: LonLat, height: MetresAboveGround): Generator<void, AreaBeyond> {
  const judged = function* (inFavour: boolean): Generator<void, AreaVerdict> {
    return yield* judgeParts(top.shape, top.ring, (part) => judgePart(top, part, inFavour));
  };
  const verdict = yield* judged(true);
  if (verdict.kind === 'over') {
    const every = Math.ceil(top.ring.length / CORNERS_SEEN);
    const places = [lowest, verdict.at, ...top.ring.filter((_, i) => i % every === 0)];
    const worst = worstOf(top, places) ?? { at: verdict.at, measure: height };
    const below = top.heightAt(worst.at) ?? height;
    return top.limit.from === 'ground below'
      ? { kind: 'over', at: worst.at, height: below }
      : { kind: 'over', at: worst.at, height: below, distance: metres(worst.measure) };
  }
  const lacking = top.structures.flatMap(({ ceiling }) => ('missing' in ceiling ? [ceiling] : []))[0];
  if (lacking !== undefined && (yield* judged(false)).kind !== 'within') {
    throw new NotAssessed(`near a structure more height may be allowed, but ${lacking.missing}`, lacking.due);
  }
  return verdict.kind === 'within' ? verdict : { kind: 'undecided', at: verdict.at, height };
}

/** Structures that let some part of an area be higher. */
const structuresOf = (
  item: Item,
  limit: HeightLimit,
  tools: FactTools,
): { readonly structures: readonly NearStructure[]; readonly reach: Metres } => {
  const terms = structureTerms(limit, tools);
  if (terms === undefined) return { structures: [], reach: metres(0) };
  const { first } = routePlaceOf(item, tools).flight;
  return { structures: structuresAround(item, terms, first, tools), reach: terms.reach };
};

const topOf = (
  item: Item,
  terrain: Terrain,
  limit: HeightLimit,
  tools: FactTools,
): Omit<AreaTop, 'structures' | 'reach'> => {
  const { upper } = bandOf(item);
  const { shape, ring } = tools.ask(areaShape, item);
  const written = upper.value;
  const whole = { shape, ring, limit, terrain };
  if ('aboveGround' in written) {
    const over = (ground: MetresAboveSea | undefined): MetresAboveSea | undefined =>
      ground === undefined ? undefined : onGround(ground, written.aboveGround);
    return {
      ...whole,
      altitudeAt: (at) => over(terrain.groundAt(at)),
      highestOf: (part) => over(terrain.rangeWithin(part.corners)?.greatest),
      heightAt: () => written.aboveGround,
    };
  }
  const altitude = aboveSea(heightAtItem(upper, item, tools).aboveSea);
  return {
    ...whole,
    altitudeAt: () => altitude,
    highestOf: () => altitude,
    heightAt: (at) => {
      const ground = terrain.groundAt(at);
      return ground === undefined ? undefined : overGround(altitude, ground);
    },
  };
};

/**
 * Whether an area that is flown by hand is beyond the height limit, part by part: each is low enough over its own ground,
 * or within reach of a structure that lets it be higher, or, in the EU, near enough to ground in another direction. Of a
 * large area it takes a while, and is done in steps.
 */
export const areaBeyondLimit = defineFact({
  name: 'area-beyond-limit',
  derive: (item: Item, tools: FactTools): Steps<AreaBeyond> => {
    const limit = heightLimit(tools);
    const { greatest } = tools.ask(areaHeight, item);
    if (!exceeds(greatest.value, limit.value)) return new Steps<AreaBeyond>({ value: { kind: 'within' } });
    const near = structuresOf(item, limit, tools);
    const { terrain } = tools.world;
    if (near.structures.length === 0) {
      const there = { at: greatest.at, height: greatest.value };
      if (limit.from === 'ground below') return new Steps<AreaBeyond>({ value: { kind: 'over', ...there } });
      // Without ground nothing can be shown to be nearer than the ground below.
      if (isMissing(terrain)) return new Steps<AreaBeyond>({ value: { kind: 'undecided', ...there } });
    }
    const top = { ...topOf(item, present(terrain), limit, tools), ...near };
    return new Steps(judgeTop(top, greatest.at, greatest.value));
  },
});

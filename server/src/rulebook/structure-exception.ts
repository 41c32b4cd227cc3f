import type { FactTools } from '../facts/fact.ts';
import { NotAssessed } from '../facts/fact.ts';
import { heightAtItem } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import {
  type AllowedStretch,
  type NearStructure,
  type StructureTerms,
  structuresAlong,
  structuresAt,
  structuresOver,
} from '../facts/structures.ts';
import { type Interval, mergeIntervals } from '../geo/interval.ts';
import { distanceToShape } from '../geo/shape.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { exceeds } from '../units/exceeds.ts';
import { type LonLat, type MetresAboveSea, metres } from '../units/frames.ts';
import { sayMetresAndFeet, sayNumber } from '../units/say.ts';
import { footprintOf } from '../world/obstacle.ts';
import { type HeightLimit, isLimitOfLaw } from './height-limit.ts';

/**
 * 14 CFR 107.51(b)(1) and (2): within a 400-foot radius of a structure, not higher than 400 ft above its immediate
 * uppermost limit. The radius is taken from the nearest part of the footprint.
 */
const PART_107: StructureTerms = { reach: metres(400 * LENGTH_UNITS.ft), above: metres(400 * LENGTH_UNITS.ft) };

/**
 * (EU) 2019/947 UAS.OPEN.010(3): within 50 m horizontally of an artificial obstacle taller than 105 m, up to 15 m above
 * its height, at the request of the entity responsible for it.
 */
const EU_OPEN = { reach: metres(50), above: metres(15), tallerThan: metres(105) } as const;

/** What the law lets a craft do near structures; undefined where it lets it do nothing, or the house has set the limit. */
export const structureTerms = (limit: HeightLimit, { plan, ruleSet }: FactTools): StructureTerms | undefined => {
  if (!isLimitOfLaw(limit)) return undefined;
  if (ruleSet === 'us-part-107') return PART_107;
  if (ruleSet !== 'eu-open' || plan.obstacles?.kind !== 'list') return undefined;
  const { requests } = plan.obstacles;
  const asked = (name: string): boolean =>
    requests.some((request) => request.of !== undefined && request.for?.value === name);
  return { ...EU_OPEN, asked };
};

/** Structures along a leg, and where on it they let the craft be over the limit. */
export interface LegAllowance {
  readonly structures: readonly AllowedStretch[];
  readonly allowed: readonly Interval[];
}

const NOTHING: LegAllowance = { structures: [], allowed: [] };

export const legAllowance = (leg: Leg, limit: HeightLimit, tools: FactTools): LegAllowance => {
  const terms = structureTerms(limit, tools);
  if (terms === undefined) return NOTHING;
  const structures = structuresAlong(leg, terms, tools);
  return { structures, allowed: mergeIntervals(structures.flatMap(({ allowed }) => allowed)) };
};

/** As `legAllowance`, if all that is not known of the structures were in favour of the flight. */
export const mostAllowed = ({ structures }: LegAllowance): readonly Interval[] =>
  mergeIntervals(structures.flatMap(({ allowed, near, lacking }) => (lacking === undefined ? allowed : near)));

/** Throws what is lacking of the structures, where it decides: `isOver` says whether something is over the limit even so. */
export const requireStructures = (allowance: LegAllowance, isOver: (allowed: readonly Interval[]) => boolean): void => {
  const lacking = allowance.structures.find((structure) => structure.lacking !== undefined)?.lacking;
  if (lacking === undefined || isOver(mostAllowed(allowance))) return;
  throw new NotAssessed(`near a structure more height may be allowed, but ${lacking.missing}`, lacking.due);
};

const judge = (structures: readonly NearStructure[], altitude: MetresAboveSea): boolean => {
  if (structures.some(({ ceiling }) => 'known' in ceiling && !exceeds(altitude, ceiling.known))) return true;
  for (const { ceiling } of structures) {
    if ('missing' in ceiling)
      throw new NotAssessed(`near a structure more height may be allowed, but ${ceiling.missing}`, ceiling.due);
  }
  return false;
};

/** Structures that let the craft be over the limit at an item: around a place, or around all of an area. */
export const structuresOfItem = (item: Item, limit: HeightLimit, tools: FactTools): readonly NearStructure[] => {
  const terms = structureTerms(limit, tools);
  if (terms === undefined) return [];
  const { first } = routePlaceOf(item, tools).flight;
  return item.kind === 'area'
    ? structuresOver(item, terms, first, tools)
    : structuresAt(tools.ask(itemPlace, item), terms, first, tools);
};

/**
 * Whether a structure lets the craft be as high at an item as is written. `NotAssessed` where the top of the one that
 * would have to is not known.
 */
export const isAllowedAt = (item: Item, written: WrittenHeight, limit: HeightLimit, tools: FactTools): boolean => {
  const structures = structuresOfItem(item, limit, tools);
  return structures.length > 0 && judge(structures, heightAtItem(written, item, tools).aboveSea);
};

/** As `isAllowedAt`, of an altitude. */
export const isAltitudeAllowedAt = (
  item: Item,
  altitude: MetresAboveSea,
  limit: HeightLimit,
  tools: FactTools,
): boolean => {
  const structures = structuresOfItem(item, limit, tools);
  return structures.length > 0 && judge(structures, altitude);
};

/** By how much something has to come down to be allowed: to the limit, or to what a structure in reach allows. */
export const excessAt = (
  item: Item,
  written: WrittenHeight,
  over: number,
  limit: HeightLimit,
  tools: FactTools,
): number => {
  const structures = structuresOfItem(item, limit, tools);
  if (structures.length === 0) return over;
  const altitude = heightAtItem(written, item, tools).aboveSea;
  return structures.reduce(
    (least, { ceiling }) => ('known' in ceiling ? Math.min(least, altitude - ceiling.known) : least),
    over,
  );
};

/** As `sayStructuresAlong`, of an item: around a place, or around all of an area. */
export const sayStructuresOfItem = (item: Item, limit: HeightLimit, tools: FactTools): string => {
  const said = sayStructures(structuresOfItem(item, limit, tools), limit, tools);
  const at = orLacking(() => tools.ask(itemPlace, item));
  if ('missing' in at) return said;
  return said + sayOnlyCentres(at.known, routePlaceOf(item, tools).flight.first, limit, tools);
};

/** `, or near "mast" at most 600 m above mean sea level, 121.92 m (400 ft) above its top`; empty without a structure. */
export const sayStructures = (structures: readonly NearStructure[], limit: HeightLimit, tools: FactTools): string => {
  const terms = structureTerms(limit, tools);
  const known = structures.flatMap(({ obstacle, ceiling }) =>
    'known' in ceiling ? [{ name: obstacle.name, ceiling: ceiling.known }] : [],
  );
  const [first, ...more] = known;
  if (terms === undefined || first === undefined) return '';
  const highest = more.reduce((one, other) => (other.ceiling > one.ceiling ? other : one), first);
  return `, or near "${highest.name}" at most ${sayNumber(highest.ceiling)} m above mean sea level, ${sayMetresAndFeet(terms.above)} above its top`;
};

/** Beyond its reach by no more than this a structure's extent may matter, in metres. Common practice, no source. */
const NEAR_MISS = 50;

/**
 * `, where "mast" is given as a point, from which its 121.92 m (400 ft) count`: a structure just out of reach, whose
 * nearest part may be within it. Empty without one.
 */
export const sayOnlyCentres = (at: LonLat, first: Item, limit: HeightLimit, tools: FactTools): string => {
  const terms = structureTerms(limit, tools);
  if (terms === undefined) return '';
  const wider = { ...terms, reach: metres(terms.reach + NEAR_MISS) };
  const near = structuresAt(at, wider, first, tools).find(
    ({ obstacle }) =>
      obstacle.footprint === undefined &&
      !(obstacle.radius > 0) &&
      exceeds(distanceToShape(footprintOf(obstacle), at), terms.reach),
  );
  if (near === undefined) return '';
  return `, where "${near.obstacle.name}" is given as a point, from which its ${sayMetresAndFeet(terms.reach)} count`;
};

/** As `sayStructures`, of the structures within reach of a place along a leg. */
export const sayStructuresAlong = (leg: Leg, along: number, limit: HeightLimit, tools: FactTools): string => {
  const terms = structureTerms(limit, tools);
  if (terms === undefined) return '';
  const at = tools.ask(pathOfLeg, leg).at(along);
  const { first } = leg.flight;
  return sayStructures(structuresAt(at, terms, first, tools), limit, tools) + sayOnlyCentres(at, first, limit, tools);
};

import { distance, legPath } from '../geo/geodesy.ts';
import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import { betweenShapes, intervalsNear } from '../geo/near-shape.ts';
import { distanceToShape } from '../geo/shape.ts';
import { type CraftLine, overAltitude } from '../geo/vertical.ts';
import type { Item, Leg } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres, overGround } from '../units/frames.ts';
import { footprintOf, type Obstacle } from '../world/obstacle.ts';
import type { Missing } from '../world/world.ts';
import { areaShape } from './area-shape.ts';
import type { FactTools } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { orLacking } from './lacking.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { obstaclesNear, topOf } from './obstacle-passes.ts';

/** How far around a structure, and how far above its top, something lets a craft be. */
export interface StructureTerms {
  readonly reach: Metres;
  readonly above: Metres;
  /** Only structures higher above their ground than this. */
  readonly tallerThan?: Metres;
  /** Only structures whose owner has asked for the flight, by their name. */
  readonly asked?: (name: string) => boolean;
}

/** A structure that something can be flown near. `ceiling` is not known where its top, or the ground under it, is not. */
export interface NearStructure {
  readonly obstacle: Obstacle;
  readonly ceiling: { readonly known: MetresAboveSea } | Missing;
}

/** Structures near places that the terms speak of; first is the flight's first item. */
const structuresNear = (
  places: readonly LonLat[],
  terms: StructureTerms,
  first: Item,
  tools: FactTools,
): readonly NearStructure[] =>
  obstaclesNear(places, terms.reach, tools).flatMap((obstacle): readonly NearStructure[] => {
    if (obstacle.structure !== true || terms.asked?.(obstacle.name) === false) return [];
    const top = orLacking(() => topOf(obstacle, first, tools));
    if ('missing' in top) return [{ obstacle, ceiling: top }];
    const { tallerThan } = terms;
    if (tallerThan !== undefined) {
      const tall = orLacking(() => exceeds(heightOf(obstacle, top.known, tools), tallerThan));
      if ('missing' in tall) return [{ obstacle, ceiling: tall }];
      if (!tall.known) return [];
    }
    return [{ obstacle, ceiling: { known: aboveSea(top.known + terms.above) } }];
  });

/** Height of a structure above the ground it stands on: as written, or from its altitude. */
const heightOf = (obstacle: Obstacle, top: MetresAboveSea, tools: FactTools): Metres =>
  'aboveGround' in obstacle.top
    ? metres(obstacle.top.aboveGround)
    : metres(overGround(top, groundAtPlace(obstacle.at, obstacle.name, tools)));

/** Where along a leg a structure lets the craft be; `lacking` is what would have to be known of it. */
export interface AllowedStretch {
  readonly obstacle: Obstacle;
  /** Within reach of the structure. */
  readonly near: readonly Interval[];
  /** Within reach of it and not above its ceiling. */
  readonly allowed: readonly Interval[];
  readonly lacking?: Missing;
}

/** The craft along the leg, at the upper end of what a terrain-following leg may hold. */
const upperLine = (leg: Leg, tools: FactTools): CraftLine => {
  const craft = tools.ask(legAltitudes, leg);
  const { length } = tools.ask(pathOfLeg, leg);
  return craft.kind === 'straight'
    ? { kind: 'straight', start: craft.start.aboveSea, end: craft.end.aboveSea, length }
    : { kind: 'follows', height: craft.height + craft.within, length };
};

/** Structures near a leg, each with the stretches on which the craft is near it and on which it is low enough. */
export const structuresAlong = (leg: Leg, terms: StructureTerms, tools: FactTools): readonly AllowedStretch[] => {
  const path = tools.ask(pathOfLeg, leg);
  const places = [path.from, path.at(path.length / 2), path.to];
  return structuresNear(places, terms, leg.flight.first, tools).flatMap(
    ({ obstacle, ceiling }): readonly AllowedStretch[] => {
      const near = intervalsNear(footprintOf(obstacle), path, terms.reach);
      if (near.length === 0) return [];
      if ('missing' in ceiling) return [{ obstacle, near, allowed: [], lacking: ceiling }];
      const over = overAltitude(upperLine(leg, tools), ceiling.known, () => tools.ask(legGround, leg));
      const under = freeOf(over, { from: 0, to: path.length });
      return [{ obstacle, near, allowed: commonIntervals(near, under) }];
    },
  );
};

/** Structures within reach of a place, each with its ceiling. */
export const structuresAt = (
  at: LonLat,
  terms: StructureTerms,
  first: Item,
  tools: FactTools,
): readonly NearStructure[] =>
  structuresNear([at], terms, first, tools).filter(
    ({ obstacle }) => intervalsNear(footprintOf(obstacle), legPath(at, at), terms.reach).length > 0,
  );

/**
 * Structures within reach of every part of a hand-flown area. Of its outline the corners decide: the distance to a convex
 * footprint is greatest at one. The ring around a circle is 0.03 % wider than the circle, on the strict side.
 */
export const structuresOver = (
  item: Item,
  terms: StructureTerms,
  first: Item,
  tools: FactTools,
): readonly NearStructure[] => {
  const { shape, ring } = tools.ask(areaShape, item);
  return structuresNear(ring, terms, first, tools).filter(({ obstacle }) => {
    const footprint = footprintOf(obstacle);
    const farthest =
      shape.kind === 'circle' && footprint.kind === 'circle'
        ? distance(shape.centre, footprint.centre) + shape.radius - footprint.radius
        : Math.max(...ring.map((corner) => distanceToShape(footprint, corner)));
    return !exceeds(metres(farthest), terms.reach);
  });
};

/** Structures of which some part of a hand-flown area is within reach. */
export const structuresAround = (
  item: Item,
  terms: StructureTerms,
  first: Item,
  tools: FactTools,
): readonly NearStructure[] => {
  const { shape, ring } = tools.ask(areaShape, item);
  return structuresNear(ring, terms, first, tools).filter(
    ({ obstacle }) => !exceeds(betweenShapes(shape, footprintOf(obstacle)), terms.reach),
  );
};

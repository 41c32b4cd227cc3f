import { boxAround, boxesMeet, growBox } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import { groundOf } from '../geo/ground-profile.ts';
import { betweenShapes, intervalsNear, nearestToShape } from '../geo/near-shape.ts';
import type { Item, Leg } from '../plan/model.ts';
import {
  aboveSea,
  type LonLat,
  type Metres,
  type MetresAboveSea,
  metres,
  onGround,
  onTakeOff,
} from '../units/frames.ts';
import { footprintOf, type Obstacle } from '../world/obstacle.ts';
import { bandOf } from './area-band.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { heightAtItem } from './item-height.ts';
import type { Partly } from './lacking.ts';
import { altitudeAlong, legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { knownObstacles } from './obstacles.ts';
import { routePlaceOf } from './route-order.ts';
import { fromEllipsoid } from './sea-level.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/** Obstacles farther than this beside a leg or an area are not looked at, in metres. */
export const OBSTACLE_REACH = 250;

/** How a leg or an area passes an obstacle. */
export interface ObstaclePass {
  readonly obstacle: Obstacle;
  /** Over the ground to the edge of the footprint; 0 over it. */
  readonly beside: Metres;
  /** Where the craft is nearest to it. */
  readonly at: LonLat;
  /** Metres from the start of the leg; absent in an area. */
  readonly along?: number;
}

export interface ObstaclePasses extends Partly {
  readonly passes: readonly ObstaclePass[];
}

/** How high the craft is over the top of an obstacle, at its lowest within so many metres beside the footprint. */
export interface OverTop {
  /** Altitude of the craft minus that of the top; negative below it. */
  readonly height: Metres;
  readonly craft: MetresAboveSea;
  readonly top: MetresAboveSea;
  readonly at: LonLat;
  readonly along?: number;
}

/** Altitude of an obstacle's top. */
export const topOf = (obstacle: Obstacle, first: Item, tools: FactTools): MetresAboveSea => {
  const { top } = obstacle;
  if ('aboveSea' in top) return top.aboveSea;
  if ('aboveGround' in top) return onGround(groundAtPlace(obstacle.at, obstacle.name, tools), top.aboveGround);
  if ('aboveTakeOff' in top) return onTakeOff(tools.ask(takeOffElevation, first).value, top.aboveTakeOff);
  return fromEllipsoid(top.aboveEllipsoid, obstacle.at, `the top of ${obstacle.name}`, tools);
};

/** Known obstacles within reach of the box around places. */
export const obstaclesNear = (places: readonly LonLat[], reach: number, tools: FactTools): readonly Obstacle[] => {
  const around = boxAround(places);
  if (around === undefined) return [];
  return tools.ask(knownObstacles, tools.plan).obstacles.filter((obstacle) => {
    const own = { west: obstacle.at.lon, east: obstacle.at.lon, south: obstacle.at.lat, north: obstacle.at.lat };
    return boxesMeet(own, growBox(around, reach + obstacle.radius));
  });
};

/** Obstacles near a leg, in the order of `obstacles`, with how near the leg comes to each over the ground. */
export const legObstacles = defineFact({
  name: 'leg-obstacles',
  derive: (leg: Leg, tools: FactTools): ObstaclePasses => {
    const path = tools.ask(pathOfLeg, leg);
    const { lacking } = tools.ask(knownObstacles, tools.plan);
    const places = [path.from, path.at(path.length / 2), path.to];
    const passes = obstaclesNear(places, OBSTACLE_REACH, tools).flatMap((obstacle): ObstaclePass[] => {
      const { distance, along } = nearestToShape(path, footprintOf(obstacle));
      const pass = { obstacle, beside: distance, at: path.at(along), along };
      return pass.beside <= OBSTACLE_REACH ? [pass] : [];
    });
    return { passes, lacking };
  },
});

/** Obstacles near a hand-flown area, the ones inside it with no distance. */
export const areaObstacles = defineFact({
  name: 'area-obstacles',
  derive: (item: Item, tools: FactTools): ObstaclePasses => {
    const { shape, ring } = tools.ask(areaShape, item);
    const { lacking } = tools.ask(knownObstacles, tools.plan);
    const passes = obstaclesNear(ring, OBSTACLE_REACH, tools).flatMap((obstacle): ObstaclePass[] => {
      const distance = betweenShapes(shape, footprintOf(obstacle));
      return distance <= OBSTACLE_REACH ? [{ obstacle, beside: distance, at: obstacle.at }] : [];
    });
    return { passes, lacking };
  },
});

/** Lowest altitude of the craft on a stretch of a leg, with its place. */
const lowestOn = (
  leg: Leg,
  path: LegPath,
  from: number,
  to: number,
  tools: FactTools,
): { readonly craft: MetresAboveSea; readonly along: number } => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'straight') {
    const ends = [from, to].map((along) => ({
      craft: altitudeAlong(craft.start.aboveSea, craft.end.aboveSea, path.length, along),
      along,
    }));
    const [start, end] = ends;
    if (start === undefined || end === undefined) throw new NotAssessed('the leg has no ends');
    // A leg without length is a climb at one place: its lower end counts.
    if (!(path.length > 0)) return { craft: aboveSea(Math.min(craft.start.aboveSea, craft.end.aboveSea)), along: 0 };
    return start.craft <= end.craft ? start : end;
  }
  const profile = tools.ask(legGround, leg);
  let lowest = { craft: aboveSea(Number.POSITIVE_INFINITY), along: from };
  const inner = [...profile.along].filter((along) => along > from && along < to);
  for (const along of [from, ...inner, to]) {
    const ground = groundOf(profile, along);
    if (Number.isNaN(ground)) {
      throw new NotAssessed(`the terrain has no data along a part of the leg to ${leg.to.id.value}, which follows it`);
    }
    const altitude = aboveSea(ground + craft.height - craft.within);
    if (altitude < lowest.craft) lowest = { craft: altitude, along };
  }
  return lowest;
};

/**
 * How high a leg passes over an obstacle, at its lowest within `sideways` metres of the footprint; undefined where it does
 * not come so near. `NotAssessed` where the top's altitude or the craft's is not known.
 */
export const legOverTop = (leg: Leg, obstacle: Obstacle, sideways: Metres, tools: FactTools): OverTop | undefined => {
  const path = tools.ask(pathOfLeg, leg);
  const stretches = intervalsNear(footprintOf(obstacle), path, sideways);
  if (stretches.length === 0) return undefined;
  const top = topOf(obstacle, leg.flight.first, tools);
  let best: OverTop | undefined;
  for (const { from, to } of stretches) {
    const { craft, along } = lowestOn(leg, path, from, to, tools);
    const height = metres(craft - top);
    if (best === undefined || height < best.height) best = { height, craft, top, at: path.at(along), along };
  }
  return best;
};

/**
 * As `legOverTop` for a hand-flown area, by the lower end of its band; above ground that is above the ground that the
 * obstacle stands on.
 */
export const areaOverTop = (
  item: Item,
  obstacle: Obstacle,
  sideways: Metres,
  tools: FactTools,
): OverTop | undefined => {
  const { shape } = tools.ask(areaShape, item);
  if (betweenShapes(shape, footprintOf(obstacle)) > sideways) return undefined;
  const from = bandOf(item).lower;
  const height = from.value;
  const craft =
    'aboveGround' in height
      ? onGround(groundAtPlace(obstacle.at, obstacle.name, tools), height.aboveGround)
      : heightAtItem(from, item, tools).aboveSea;
  const top = topOf(obstacle, routePlaceOf(item, tools).flight.first, tools);
  return { height: metres(craft - top), craft, top, at: obstacle.at };
};

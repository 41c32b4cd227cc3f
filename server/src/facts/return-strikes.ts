import { blockedLines, highestLine, type InTheWay } from '../geo/fan.ts';
import { legPath } from '../geo/geodesy.ts';
import { totalLength } from '../geo/interval.ts';
import { nearestToShape } from '../geo/near-shape.ts';
import { insideShape, type Shape, shapesMeet } from '../geo/shape.ts';
import type { Flight } from '../plan/model.ts';
import { aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { footprintOf, type Obstacle } from '../world/obstacle.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import { obstaclesNear, topOf } from './obstacle-passes.ts';
import { knownObstacles } from './obstacles.ts';
import { fanOf, type Returns, type ReturnsOfFlight, returnsOf } from './returns.ts';

/** Ways home that meet something: from one leg or area. */
export interface ReturnStrike {
  readonly returns: Returns;
  /** How far what they meet stands above them, and how high that is above the sea. */
  readonly over: Metres;
  readonly top: MetresAboveSea;
  readonly at: LonLat;
  /** Metres along the leg to where the worst of these ways begins. */
  readonly along: number;
  /** Metres of the leg from which the way home is barred. */
  readonly length: Metres;
}

export interface ReturnStrikes extends Partly {
  /** One for each leg and area, in the order of the flight. */
  readonly strikes: readonly ReturnStrike[];
  /** How high the ways home have to be to pass over everything, above the sea; undefined where they do. */
  readonly needed: MetresAboveSea | undefined;
}

/** A way home at the very height of a statement is not below it, in metres. */
const TOLERANCE = 0.01;

const joined = (strikes: readonly ReturnStrike[]): readonly ReturnStrike[] => {
  const bySubject = new Map<string, ReturnStrike>();
  for (const strike of strikes) {
    const known = bySubject.get(strike.returns.subject);
    if (known === undefined || strike.over > known.over) bySubject.set(strike.returns.subject, strike);
  }
  return [...bySubject.values()];
};

/**
 * The ways home against the ground, from every place: with the height to climb to raised by so many metres, and against
 * whatever stands on the ground up to a height.
 */
export const groundStrikes = (
  flight: ReturnsOfFlight,
  raised: number,
  tools: FactTools,
  standing = 0,
): ReturnStrikes => {
  const terrain = present(tools.world.terrain);
  const strikes: ReturnStrike[] = [];
  const lacking: Missing[] = [];
  let needed: MetresAboveSea | undefined;
  for (const returns of flight.returns) {
    const blocked = blockedLines(fanOf(returns, flight.way, raised, 'lowest', standing), terrain.underSheet);
    if (blocked.unknown) {
      lacking.push({
        missing: `the terrain has no data in a part of what lies between ${returns.subject} and ${flight.way.name}`,
      });
    }
    const { worst, highest } = blocked;
    if (worst === undefined || highest === undefined) continue;
    if (needed === undefined || highest.ground > needed) needed = highest.ground;
    strikes.push({
      returns,
      over: worst.over,
      top: worst.ground,
      at: worst.at,
      along: worst.along,
      length: metres(totalLength(blocked.stretches)),
    });
  }
  return { strikes: joined(strikes), needed, lacking };
};

/**
 * How far beside its line the aircraft may be on its way home, in metres: satellite positioning 3 m, holding of the
 * position 3 m, maps 1 m. Source: LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev.
 * 1.7 (2024).
 */
export const BESIDE_THE_LINE = metres(7);

/** Stretches of a leg are looked at in parts of at most this length, in metres, where the height changes along it. */
const PART = 20;

const outline = (corners: readonly LonLat[]): Shape => ({ kind: 'polygons', polygons: [[corners]] });

const comesNear = (footprint: Shape, corners: readonly LonLat[]): boolean => {
  if (shapesMeet(outline(corners), footprint)) return true;
  return corners.some((corner, i) => {
    const edge = legPath(corner, corners[i + 1] ?? corners[0] ?? corner);
    return nearestToShape(edge, footprint).distance <= BESIDE_THE_LINE;
  });
};

/** The worst of the ways home from one leg or edge against one obstacle. */
const obstacleStrike = (
  flight: ReturnsOfFlight,
  returns: Returns,
  obstacle: Obstacle,
  top: MetresAboveSea,
  raised: number,
): ReturnStrike | undefined => {
  const { path } = returns;
  const footprint = footprintOf(obstacle);
  const home = flight.way.to;
  const whole = { from: 0, to: path.length };
  if (returns.levels(whole, raised).least > top) return undefined;
  if (!comesNear(footprint, [home, path.from, path.to])) return undefined;
  const { least, greatest } = returns.levels(whole, raised);
  const parts = least === greatest || returns.leg === undefined ? 1 : Math.max(1, Math.ceil(path.length / PART));
  let worst: ReturnStrike | undefined;
  let length = 0;
  for (let i = 0; i < parts; i++) {
    const part = { from: (path.length * i) / parts, to: (path.length * (i + 1)) / parts };
    const level = returns.levels(part, raised).least;
    if (level > top) continue;
    if (parts > 1 && !comesNear(footprint, [home, path.at(part.from), path.at(part.to)])) continue;
    length += part.to - part.from;
    if (worst !== undefined && top - level <= worst.over) continue;
    worst = {
      returns,
      over: metres(top - level),
      top: aboveSea(top),
      at: obstacle.at,
      along: (part.from + part.to) / 2,
      length: metres(0),
    };
  }
  return worst === undefined ? undefined : { ...worst, length: metres(length) };
};

export interface ObstacleStrike extends ReturnStrike {
  readonly obstacle: Obstacle;
}

export interface ObstacleStrikes extends Partly {
  readonly strikes: readonly ObstacleStrike[];
  readonly needed: MetresAboveSea | undefined;
}

/** The ways home against the obstacles that are known, within seven metres beside them. */
export const obstacleStrikes = (flight: ReturnsOfFlight, raised: number, tools: FactTools): ObstacleStrikes => {
  const strikes: ObstacleStrike[] = [];
  const lacking: Missing[] = [...tools.ask(knownObstacles, tools.plan).lacking];
  let needed: MetresAboveSea | undefined;
  for (const returns of flight.returns) {
    const places = [flight.way.to, returns.path.from, returns.path.to];
    for (const obstacle of obstaclesNear(places, BESIDE_THE_LINE, tools)) {
      const top = orLacking(() => topOf(obstacle, flight.way.first, tools));
      if ('missing' in top) {
        lacking.push(top);
        continue;
      }
      // What stands at the place to fly to is landed beside.
      if (insideShape(footprintOf(obstacle), flight.way.to)) continue;
      const strike = obstacleStrike(flight, returns, obstacle, top.known, raised);
      if (strike === undefined) continue;
      if (needed === undefined || top.known > needed) needed = top.known;
      strikes.push({ ...strike, obstacle });
    }
  }
  return { strikes, needed, lacking };
};

/** The way home that is highest over the ground below it. */
export interface HighestReturn extends InTheWay {
  readonly returns: Returns;
  /** Whether it is the height to climb to that makes it so high, not the height that the craft has anyway. */
  readonly byClimb: boolean;
}

export interface HighestReturns extends Partly {
  /** One for each leg or edge of an area. */
  readonly highest: readonly HighestReturn[];
}

export const highestReturns = (flight: ReturnsOfFlight, raised: number, tools: FactTools): HighestReturns => {
  const terrain = present(tools.world.terrain);
  const highest: HighestReturn[] = [];
  const lacking: Missing[] = [];
  for (const returns of flight.returns) {
    const { greatest, unknown } = highestLine(fanOf(returns, flight.way, raised, 'highest'), terrain.underSheet);
    if (unknown) {
      lacking.push({
        missing: `the terrain has no data in a part of what lies between ${returns.subject} and ${flight.way.name}`,
      });
    }
    if (greatest === undefined) continue;
    const there = { from: greatest.along, to: greatest.along };
    const byClimb = returns.levels(there, raised).greatest > returns.craft(there).greatest;
    highest.push({ ...greatest, returns, byClimb });
  }
  return { highest, lacking };
};

/** Ways home lower than the height above ground up to which the crew has not said that nothing stands. */
export const returnsBelowStatement = defineFact({
  name: 'returns-below-statement',
  derive: (flight: Flight, tools: FactTools): ReturnStrikes | undefined => {
    const { obstacles } = tools.plan;
    if (obstacles?.kind !== 'statement' || obstacles.noneAbove === undefined) return undefined;
    const height = obstacles.noneAbove.value;
    const returns = tools.ask(returnsOf, flight);
    if (returns === undefined || !('aboveGround' in height)) return undefined;
    const found = groundStrikes(returns, 0, tools, height.aboveGround - TOLERANCE);
    return { ...found, lacking: [...returns.lacking, ...found.lacking] };
  },
});

/** As the plan has it. */
export const returnGroundStrikes = defineFact({
  name: 'return-ground-strikes',
  derive: (flight: Flight, tools: FactTools): ReturnStrikes | undefined => {
    const returns = tools.ask(returnsOf, flight);
    if (returns === undefined) return undefined;
    const found = groundStrikes(returns, 0, tools);
    return { ...found, lacking: [...returns.lacking, ...found.lacking] };
  },
});

export const returnObstacleStrikes = defineFact({
  name: 'return-obstacle-strikes',
  derive: (flight: Flight, tools: FactTools): ObstacleStrikes | undefined => {
    const returns = tools.ask(returnsOf, flight);
    return returns === undefined ? undefined : obstacleStrikes(returns, 0, tools);
  },
});

export const returnHeights = defineFact({
  name: 'return-heights',
  derive: (flight: Flight, tools: FactTools): HighestReturns | undefined => {
    const returns = tools.ask(returnsOf, flight);
    return returns === undefined ? undefined : highestReturns(returns, 0, tools);
  },
});

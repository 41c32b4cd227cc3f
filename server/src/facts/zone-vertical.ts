import type { Item } from '../plan/model.ts';
import {
  type MetresAboveGround,
  type MetresAboveSea,
  onTakeOff,
  overGeoid,
  type Pascals,
  pascals,
} from '../units/frames.ts';
import { altitudeOfLevel } from '../units/standard-atmosphere.ts';
import type { Zone, ZoneEdge } from '../world/zone.ts';
import { type FactTools, NotAssessed } from './fact.ts';
import { type QnhBand, qnhBand } from './qnh-band.ts';
import { geoidOverPlan } from './sea-level.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/** The floor or ceiling of a zone in a frame that geometry can use. `open` bounds nothing. */
export type VerticalEdge =
  | { readonly kind: 'open' }
  | { readonly kind: 'above-ground'; readonly height: MetresAboveGround }
  | { readonly kind: 'above-sea'; readonly altitude: MetresAboveSea };

export interface VerticalEdges {
  readonly floor: VerticalEdge;
  readonly ceiling: VerticalEdge;
}

/** What of the day and the place bends the edges of a zone: one end of what is possible. */
interface Bend {
  readonly qnh: Pascals;
  /** Heights above the ellipsoid are taken at the least or the greatest undulation over the plan's area. */
  readonly geoid: 'least' | 'greatest';
}

/** `first` is the flight's first item: heights above take-off count from there. */
const verticalEdge = (edge: ZoneEdge, zoneName: string, first: Item, bend: Bend, tools: FactTools): VerticalEdge => {
  if (edge === 'surface' || edge === 'unlimited') return { kind: 'open' };
  if ('aboveGround' in edge) return { kind: 'above-ground', height: edge.aboveGround };
  if ('aboveSea' in edge) return { kind: 'above-sea', altitude: edge.aboveSea };
  if ('pressureAltitude' in edge)
    return { kind: 'above-sea', altitude: altitudeOfLevel(edge.pressureAltitude, bend.qnh) };
  if ('aboveTakeOff' in edge) {
    return { kind: 'above-sea', altitude: onTakeOff(tools.ask(takeOffElevation, first).value, edge.aboveTakeOff) };
  }
  if (tools.world.geoid === undefined) {
    throw new NotAssessed(
      `a height of zone ${zoneName} is above the ellipsoid, and bringing it to mean sea level needs a geoid grid`,
    );
  }
  const undulation = tools.ask(geoidOverPlan, tools.plan)[bend.geoid];
  return { kind: 'above-sea', altitude: overGeoid(edge.aboveEllipsoid, undulation) };
};

/** Stands where no edge depends on the pressure. */
const ANY_PRESSURE: QnhBand = { least: pascals(101_325), greatest: pascals(101_325) };

const isLevel = (edge: ZoneEdge): boolean => typeof edge === 'object' && 'pressureAltitude' in edge;
const isOnEllipsoid = (edge: ZoneEdge): boolean => typeof edge === 'object' && 'aboveEllipsoid' in edge;

/**
 * Judges something between the floor and the ceiling of a zone. Flight levels need the pressure of the day: without it
 * they lie in a band, as do heights above the ellipsoid. `judge` is then asked for the zone at its largest, and where that
 * finds something, for the zone at its smallest. What only the largest has is not assessed.
 */
export const betweenEdges = <T>(
  zone: Zone,
  first: Item,
  tools: FactTools,
  judge: (edges: VerticalEdges) => T,
  foundIn: (answer: T) => boolean,
): T => {
  const levels = isLevel(zone.floor) || isLevel(zone.ceiling);
  const pressure = levels ? qnhBand(tools) : ANY_PRESSURE;
  const lowest: Bend = { qnh: pressure.least, geoid: 'greatest' };
  const highest: Bend = { qnh: pressure.greatest, geoid: 'least' };
  const edges = (ofFloor: Bend, ofCeiling: Bend): VerticalEdges => ({
    floor: verticalEdge(zone.floor, zone.name, first, ofFloor, tools),
    ceiling: verticalEdge(zone.ceiling, zone.name, first, ofCeiling, tools),
  });
  const largest = judge(edges(lowest, highest));
  const onLevels = levels && pressure.least !== pressure.greatest;
  const onEllipsoid = isOnEllipsoid(zone.floor) || isOnEllipsoid(zone.ceiling);
  if (!foundIn(largest) || (!onLevels && !onEllipsoid)) return largest;
  const smallest = judge(edges(highest, lowest));
  if (foundIn(smallest)) return smallest;
  if (!onLevels) {
    throw new NotAssessed(
      `the limits of zone ${zone.name} are above the ellipsoid, and over the plan's area mean sea level is not at one height above that`,
    );
  }
  throw new NotAssessed(
    `the limits of zone ${zone.name} are flight levels, and where these lie depends on the QNH: ${pressure.unknown?.missing ?? 'the weather gives more than one for the window'}`,
    pressure.unknown?.due,
  );
};

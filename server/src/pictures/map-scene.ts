import { areaShape } from '../facts/area-shape.ts';
import type { FactTools } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { wayHome } from '../facts/lost-link.ts';
import { knownObstacles } from '../facts/obstacles.ts';
import { peopleAreas } from '../facts/people-areas.ts';
import { sightRange } from '../facts/sight-range.ts';
import { turningBack } from '../facts/turning-back.ts';
import { sayMember, watchersOf } from '../facts/watchers.ts';
import { boxAround, boxesMeet, growBox } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import type { Shape } from '../geo/shape.ts';
import type { Item, Leg } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';
import { sayDistance, sayHeight, sayNumber } from '../units/say.ts';
import { footprintOf } from '../world/obstacle.ts';
import { isMissing } from '../world/world.ts';
import type { Zone, ZoneEdge } from '../world/zone.ts';

/** Ground with a name: a zone, an area with people, an area that is flown by hand, an obstacle. */
export interface NamedShape {
  readonly name: string;
  readonly said: string;
  readonly shape: Shape;
}

export interface NamedPlace {
  readonly name: string;
  readonly at: LonLat;
}

/** All that a map of a plan shows. What could not be worked out is among `lacking`, each reason once. */
export interface MapScene {
  readonly items: readonly { readonly item: Item; readonly at: LonLat }[];
  readonly areas: readonly NamedShape[];
  readonly legs: readonly { readonly leg: Leg; readonly path: LegPath }[];
  readonly zones: readonly NamedShape[];
  readonly people: readonly NamedShape[];
  readonly obstacles: readonly (NamedShape & { readonly at: LonLat })[];
  readonly watchers: readonly NamedPlace[];
  readonly sight?: { readonly range: number; readonly said: string };
  readonly noReturn: readonly NamedPlace[];
  /** Straight ways after a lost link, from the items of each flight. */
  readonly waysHome: readonly { readonly from: LonLat; readonly to: LonLat }[];
  readonly wayHomeSaid?: string;
  readonly lacking: readonly string[];
}

/** What is this near to the flight comes onto the map where it has room, in metres. */
const AROUND = 2000;
const MOST_WAYS = 60;

const sayEdge = (edge: ZoneEdge): string => {
  if (typeof edge === 'string') return edge;
  return 'pressureAltitude' in edge ? `flight level ${sayNumber(edge.pressureAltitude / 30.48, 0)}` : sayHeight(edge);
};

const BY = {
  'aircraft size': 'by the size of the aircraft',
  visibility: 'by the visibility',
  house: 'set by the house',
};

const KINDS: Readonly<Record<Zone['kind'], string>> = {
  controlled: 'controlled',
  prohibited: 'prohibited area',
  restricted: 'restricted area',
  danger: 'danger area',
  geographical: 'geographical zone',
  house: 'zone of the house',
  cell: 'cell of a grid',
};

/** `restricted area, surface to 120 m above ground` */
const sayZone = ({ kind, airspaceClass, floor, ceiling }: Zone): string =>
  `${airspaceClass === undefined ? KINDS[kind] : `class ${airspaceClass}`}, ${sayEdge(floor)} to ${sayEdge(ceiling)}`;

export const mapScene = (tools: FactTools): MapScene => {
  const { plan, world } = tools;
  const lacking = new Set<string>();
  const known = <T>(derive: () => T): T | undefined => {
    const answer = orLacking(derive);
    if ('known' in answer) return answer.known;
    lacking.add(answer.missing);
    return undefined;
  };
  const items = plan.items.flatMap((item) => {
    if (item.kind === 'hold' || item.kind === 'battery' || item.kind === 'unread') return [];
    const at = known(() => tools.ask(itemPlace, item));
    return at === undefined ? [] : [{ item, at }];
  });
  const areas = plan.items.flatMap((item) => {
    if (item.kind !== 'area') return [];
    const outline = known(() => tools.ask(areaShape, item));
    return outline === undefined ? [] : [{ name: item.id.value, said: 'flown by hand', shape: outline.shape }];
  });
  const legs = plan.flights.flatMap((flight) =>
    tools.ask(flownLegs, flight).flatMap((leg) => {
      const path = known(() => tools.ask(pathOfLeg, leg));
      return path === undefined ? [] : [{ leg, path }];
    }),
  );
  const watchers = new Map<string, NamedPlace>();
  for (const { first } of plan.flights) {
    const found = known(() => tools.ask(watchersOf, first));
    for (const { member, at } of found?.watchers ?? []) {
      const name = sayMember(member).replace(/^the /, '');
      watchers.set(`${name} ${at.lat} ${at.lon}`, { name, at });
    }
  }
  const places = [...items.map(({ at }) => at), ...legs.flatMap(({ path }) => [path.from, path.to])];
  const whole = boxAround([...places, ...[...watchers.values()].map(({ at }) => at)]);
  const around = whole && growBox(whole, AROUND);
  if (isMissing(world.airspace)) lacking.add(world.airspace.missing);
  const zones = isMissing(world.airspace) || around === undefined ? [] : world.airspace.zonesIn(around);
  const people = known(() => tools.ask(peopleAreas, plan))?.areas ?? [];
  const obstacles = known(() => tools.ask(knownObstacles, plan))?.obstacles ?? [];
  const sight = known(() => tools.ask(sightRange, plan));
  const noReturn = plan.flights.flatMap((flight) => {
    const found = known(() => tools.ask(turningBack, flight))?.noReturn;
    return found === undefined ? [] : [{ name: 'point of no return', at: found.at }];
  });
  const ways = plan.flights.flatMap((flight) => {
    const way = known(() => tools.ask(wayHome, flight));
    if (way === undefined) return [];
    const own = new Set(flight.items);
    return items
      .filter(({ item }) => own.has(item) && item.kind !== 'take-off' && item.kind !== 'land')
      .map(({ at }) => ({ from: at, to: way.to }));
  });
  const climb = plan.lostLink?.climbTo;
  const height = climb === undefined ? 'at the height it has' : `at ${sayHeight(climb.value)} or higher`;
  return {
    items,
    areas,
    legs,
    zones: zones
      .filter(({ kind }) => kind !== 'cell')
      .map((zone) => ({ name: zone.name, said: sayZone(zone), shape: zone.shape })),
    people: people
      .filter(({ box }) => around !== undefined && boxesMeet(box, around))
      .map(({ name, kind, shape }) => ({ name, said: kind, shape })),
    obstacles: obstacles
      .filter(({ at }) => {
        const box = boxAround([at]);
        return around !== undefined && box !== undefined && boxesMeet(box, around);
      })
      .map((obstacle) => ({
        name: obstacle.name,
        said: `top ${sayHeight(obstacle.top)}`,
        shape: footprintOf(obstacle),
        at: obstacle.at,
      })),
    watchers: [...watchers.values()],
    ...(sight !== undefined && {
      sight: { range: sight.range, said: `sight range ${sayDistance(sight.range)}, ${BY[sight.by]}` },
    }),
    noReturn,
    waysHome: ways.slice(0, MOST_WAYS),
    ...(ways.length > 0 && { wayHomeSaid: `way after a lost link, ${height}` }),
    lacking: [...lacking],
  };
};

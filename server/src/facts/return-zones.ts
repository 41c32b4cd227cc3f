import { boxAround, growBox } from '../geo/box.ts';
import type { Interval } from '../geo/interval.ts';
import { type Shape, shapesMeet } from '../geo/shape.ts';
import { placeBeyond } from '../geo/shape-beyond.ts';
import type { Flight } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround, aboveSea, type LonLat, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import type { Airspace, Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { airspaceOf } from '../world/zones-in-box.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import { orLacking } from './lacking.ts';
import { knownNotices } from './restrictions.ts';
import { type Returns, type ReturnsOfFlight, returnsOf } from './returns.ts';
import { isZoneActive } from './zone-active.ts';
import { betweenEdges, type VerticalEdge, type VerticalEdges } from './zone-vertical.ts';
import type { FlightZones, ZoneVisit } from './zone-visits.ts';

/** Legs are looked at in parts of this length, in metres, so that a height of one end does not count at the other. */
const PART = 200;

/** What the aircraft may fly through after a lost link: over an outline on the ground between two altitudes. */
interface Through {
  readonly ring: readonly LonLat[];
  readonly shape: Shape;
  readonly lowest: number;
  readonly highest: number;
}

const outline = (ring: readonly LonLat[]): Shape => ({ kind: 'polygons', polygons: [[ring]] });

/** The climb over a part of the path, and the ways home from it. */
const throughOf = (returns: Returns, home: LonLat, part: Interval): readonly Through[] => {
  const [from, to] = [returns.path.at(part.from), returns.path.at(part.to)];
  const craft = returns.craft(part);
  const levels = returns.levels(part, 0);
  const ways = [home, from, to];
  return [
    { ring: ways, shape: outline(ways), lowest: levels.least, highest: levels.greatest },
    { ring: [from, to], shape: outline([from, to]), lowest: craft.least, highest: levels.greatest },
  ];
};

const partsOf = (length: number): readonly Interval[] => {
  const parts = Math.max(1, Math.ceil(length / PART));
  return Array.from({ length: parts }, (_, i) => ({ from: (length * i) / parts, to: (length * (i + 1)) / parts }));
};

const groundUnder = (through: Through, tools: FactTools): { readonly least: number; readonly greatest: number } => {
  const range = present(tools.world.terrain).rangeWithin(through.ring);
  if (range === undefined) throw new NotAssessed('the terrain has no data in a part of what the ways home lead over');
  return range;
};

const highestAboveGround = (through: Through, tools: FactTools): MetresAboveGround =>
  aboveGround(through.highest - groundUnder(through, tools).least);

const isOver = (through: Through, end: 'lowest' | 'highest', edge: VerticalEdge, tools: FactTools): boolean => {
  if (edge.kind === 'above-sea') return exceeds(aboveSea(through[end]), edge.altitude);
  if (edge.kind === 'open') return false;
  const ground = groundUnder(through, tools);
  return exceeds(aboveGround(through[end] - (end === 'highest' ? ground.least : ground.greatest)), edge.height);
};

const meets = (through: Through, zone: Zone, flight: ReturnsOfFlight, tools: FactTools): boolean => {
  if (!shapesMeet(through.shape, zone.shape)) return false;
  const between = ({ floor, ceiling }: VerticalEdges): boolean =>
    (floor.kind === 'open' || isOver(through, 'highest', floor, tools)) && !isOver(through, 'lowest', ceiling, tools);
  return betweenEdges(zone, flight.way.first, tools, between, (met) => met);
};

const visitOf = (returns: Returns, met: readonly Through[], at: LonLat, zone: Zone, tools: FactTools): ZoneVisit => ({
  subject: returns.subject,
  written: returns.written,
  at,
  ...(returns.leg === undefined ? {} : { intervals: [{ from: 0, to: returns.path.length }] }),
  of: returns.leg === undefined ? { item: returns.item } : { leg: returns.leg },
  greatestAboveGround: (): MetresAboveGround =>
    aboveGround(Math.max(...met.map((through) => highestAboveGround(through, tools)))),
  greatestAboveSea: (): MetresAboveSea => aboveSea(Math.max(...met.map(({ highest }) => highest))),
  outside: (area) => {
    for (const { shape } of met) {
      const place = placeBeyond(shape, zone.shape, area);
      if (place !== undefined) return place;
    }
    return undefined;
  },
});

/** The zones of an airspace that the aircraft may enter after a lost link, zone by zone; only the active ones. */
const entered = (flight: ReturnsOfFlight, { zonesIn }: Pick<Airspace, 'zonesIn'>, tools: FactTools): FlightZones => {
  const lacking: Missing[] = [];
  const byZone = new Map<object, { zone: Zone; visits: ZoneVisit[]; untold?: Missing }>();
  for (const returns of flight.returns) {
    const box = boxAround([flight.way.to, returns.path.from, returns.path.to]);
    for (const zone of box === undefined ? [] : zonesIn(growBox(box, 1))) {
      const found = orLacking(() =>
        partsOf(returns.path.length)
          .flatMap((part) => throughOf(returns, flight.way.to, part))
          .filter((through) => meets(through, zone, flight, tools)),
      );
      if ('missing' in found) {
        lacking.push(found);
        continue;
      }
      const [first] = found.known;
      const at = first?.ring[1] ?? first?.ring[0];
      if (first === undefined || at === undefined) continue;
      const whole = zone.layerOf ?? zone;
      const visit = visitOf(returns, found.known, at, zone, tools);
      const known = byZone.get(whole);
      if (known !== undefined) {
        known.visits.push(visit);
        continue;
      }
      const active = orLacking(() => isZoneActive(zone, at, tools));
      if ('known' in active && !active.known) continue;
      byZone.set(whole, { zone, visits: [visit], ...('missing' in active ? { untold: active } : {}) });
    }
  }
  return { zones: [...byZone.values()], lacking };
};

/** Zones of the airspace files that the way after a lost link enters; undefined where the plan has no such way. */
export const returnZones = defineFact({
  name: 'return-zones',
  derive: (flight: Flight, tools: FactTools): FlightZones | undefined => {
    const returns = tools.ask(returnsOf, flight);
    if (returns === undefined) return undefined;
    const { zones, lacking } = entered(returns, present(tools.world.airspace), tools);
    return { zones, lacking: [...returns.lacking, ...lacking] };
  },
});

/** What notices restrict on the way after a lost link. */
export const returnRestrictions = defineFact({
  name: 'return-restrictions',
  derive: (flight: Flight, tools: FactTools): FlightZones | undefined => {
    const returns = tools.ask(returnsOf, flight);
    const zones = tools.ask(knownNotices, tools.plan).flatMap((notice) => notice.zones);
    if (returns === undefined || zones.length === 0) return undefined;
    return entered(returns, airspaceOf(zones), tools);
  },
});

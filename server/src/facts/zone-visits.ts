import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import { liesWithin } from '../geo/lies-within.ts';
import { TOUCH } from '../geo/ring.ts';
import { insideShape, intervalsInside, type Shape } from '../geo/shape.ts';
import { placeBeyond } from '../geo/shape-beyond.ts';
import { greatestGroundOn, greatestOn } from '../geo/stretch-height.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import {
  aboveGround,
  aboveSea,
  type LonLat,
  type MetresAboveGround,
  type MetresAboveSea,
  onGround,
  overGround,
} from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { outsideEditions } from './airspace-editions.ts';
import { areaGround, areaHeight } from './area-height.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { groundOfItem, heightAtItem, itemHeight } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { altitudeAlong, legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { type VolumeZones, volumeZones } from './volume-zones.ts';
import { isZoneActive } from './zone-active.ts';
import { type ZoneEntries, zoneEntries } from './zone-entries.ts';

/** One leg or item inside a zone. */
export interface ZoneVisit {
  readonly subject: string;
  /** Where it stands in the text. */
  readonly written: Span;
  readonly at: LonLat;
  readonly intervals?: readonly Interval[];
  readonly of: { readonly leg: Leg } | { readonly item: Item };
  /**
   * Greatest height inside the zone, worked out only when an authorisation asks for it; of a leg on request on some
   * stretches only.
   */
  greatestAboveGround(on?: readonly Interval[]): MetresAboveGround;
  greatestAboveSea(on?: readonly Interval[]): MetresAboveSea;
  /** A place of the visit, inside the zone, that lies outside an area; undefined where all of it lies in that. */
  outside(area: Shape): LonLat | undefined;
}

export interface ZoneVisits {
  readonly zone: Zone;
  readonly visits: readonly ZoneVisit[];
  /** Why it cannot be told whether the zone is active; it then counts as such. A gap only where entering it asks something. */
  readonly untold?: Missing;
}

export interface FlightZones extends Partly {
  /** Zones that are active at some time of the window, in the order in which the flight meets them. */
  readonly zones: readonly ZoneVisits[];
}

/** A leg on some stretches of it. */
export const legVisit = (leg: Leg, intervals: readonly Interval[], at: LonLat, tools: FactTools): ZoneVisit => {
  const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const path = tools.ask(pathOfLeg, leg);
  return {
    subject,
    written: leg.to.id.span,
    at,
    intervals,
    of: { leg },
    greatestAboveGround: (on = intervals) => {
      const craft = tools.ask(legAltitudes, leg);
      if (craft.kind === 'follows') return aboveGround(craft.height + craft.within);
      const climb = path.length > 0 ? (craft.end.aboveSea - craft.start.aboveSea) / path.length : 0;
      const greatest = greatestOn(tools.ask(legGround, leg), craft.start.aboveSea, climb, on);
      return given(greatest, `the ground under ${subject}`);
    },
    greatestAboveSea: (on = intervals) => {
      const craft = tools.ask(legAltitudes, leg);
      if (craft.kind === 'follows') {
        const ground = given(greatestGroundOn(tools.ask(legGround, leg), on), `the ground under ${subject}`);
        return onGround(ground, aboveGround(craft.height + craft.within));
      }
      const { start, end } = craft;
      // A climb on the spot is at both of its altitudes.
      if (!(path.length > 0)) return aboveSea(Math.max(start.aboveSea, end.aboveSea));
      const heights = on.flatMap(({ from, to }) =>
        [from, to].map((along) => altitudeAlong(start.aboveSea, end.aboveSea, path.length, along)),
      );
      return aboveSea(Math.max(...heights));
    },
    outside: (area) => {
      const free = freeOf(intervalsInside(area, path), { from: 0, to: path.length });
      const [first] = commonIntervals(free, intervals).filter(
        ({ from, to }) => to - from > TOUCH || !(path.length > 0),
      );
      return first === undefined ? undefined : path.at((first.from + first.to) / 2);
    },
  };
};

/** An item inside a zone, or all of it where none is meant. */
export const itemVisit = (item: Item, zone: Zone | undefined, at: LonLat, tools: FactTools): ZoneVisit => ({
  subject: `${item.kind} ${item.id.value}`,
  written: item.id.span,
  at,
  of: { item },
  greatestAboveGround: () => {
    if (item.kind === 'area') return tools.ask(areaHeight, item).greatest.value;
    const { arriving, leaving } = tools.ask(itemHeight, item);
    const top = arriving.aboveSea > leaving.aboveSea ? arriving : leaving;
    return top.aboveGround ?? overGround(top.aboveSea, groundOfItem(item, tools.ask(itemPlace, item), tools));
  },
  greatestAboveSea: () => {
    if (item.kind === 'area') {
      const { value, written } = tools.ask(areaHeight, item).greatest;
      if (!('aboveGround' in written.value)) return heightAtItem(written, item, tools).aboveSea;
      return onGround(tools.ask(areaGround, item).greatest, value);
    }
    const { arriving, leaving } = tools.ask(itemHeight, item);
    return aboveSea(Math.max(arriving.aboveSea, leaving.aboveSea));
  },
  outside: (area) => {
    if (item.kind !== 'area') return insideShape(area, at) ? undefined : at;
    const own = tools.ask(areaShape, item).shape;
    if (zone !== undefined) return placeBeyond(own, zone.shape, area);
    return liesWithin(own, area) ? undefined : at;
  },
});

/** Where zones come from: those that a leg enters, and those that are entered at an item. */
export interface ZoneSource {
  onLeg(leg: Leg): ZoneEntries;
  atItem(item: Item): VolumeZones;
}

/** Everything of a flight that lies in zones, zone by zone: one zone entered by forty legs is one matter. */
export const visitsOf = (flight: Flight, source: ZoneSource, tools: FactTools): FlightZones => {
  const lacking: Missing[] = [];
  // Layers of one zone are one matter, and share what they are and when they are active.
  const byZone = new Map<object, { readonly zone: Zone; readonly visits: ZoneVisit[]; readonly untold?: Missing }>();
  const asleep = new Set<object>();
  const add = (zone: Zone, visit: ZoneVisit): void => {
    const whole = zone.layerOf ?? zone;
    if (asleep.has(whole)) return;
    const known = byZone.get(whole);
    if (known !== undefined) {
      known.visits.push(visit);
      return;
    }
    const active = orLacking(() => isZoneActive(zone, visit.at, tools));
    // What cannot be told counts as active: the breach is said beside the gap.
    if ('missing' in active || active.known) {
      byZone.set(whole, { zone, visits: [visit], ...('missing' in active ? { untold: active } : {}) });
    } else asleep.add(whole);
  };
  for (const item of tools.ask(flownItems, flight)) {
    const leg = routePlaceOf(item, tools).arriving;
    const onLeg = leg === undefined ? undefined : orLacking(() => source.onLeg(leg));
    if (onLeg !== undefined && 'missing' in onLeg) lacking.push(onLeg);
    else if (onLeg !== undefined && leg !== undefined) {
      lacking.push(...onLeg.known.lacking);
      for (const entry of onLeg.known.entries) add(entry.zone, legVisit(leg, entry.intervals, entry.at, tools));
    }
    const atItem = orLacking(() => source.atItem(item));
    if ('missing' in atItem) lacking.push(atItem);
    else {
      lacking.push(...atItem.known.lacking);
      for (const entry of atItem.known.entries) add(entry.zone, itemVisit(item, entry.zone, entry.at, tools));
    }
  }
  return { zones: [...byZone.values()], lacking };
};

/** The zones of the airspace files that a flight enters. */
export const flightZones = defineFact({
  name: 'flight-zones',
  derive: (flight: Flight, tools: FactTools): FlightZones => {
    const source: ZoneSource = {
      onLeg: (leg) => tools.ask(zoneEntries, leg),
      atItem: (item) => tools.ask(volumeZones, item),
    };
    const { zones, lacking } = visitsOf(flight, source, tools);
    return { zones, lacking: [...lacking, ...outsideEditions(tools)] };
  },
});

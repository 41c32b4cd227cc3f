import { inverse } from '../geo/geodesy.ts';
import { profileRange } from '../geo/profile-heights.ts';
import type { Flight, FlightRef, Item, Leg } from '../plan/model.ts';
import {
  aboveSea,
  type LonLat,
  type Metres,
  type MetresAboveSea,
  type MetresPerSecond,
  metresPerSecond,
  onGround,
  type Share,
  share,
} from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { strongestWind } from './air-speed.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { areaShape } from './area-shape.ts';
import { energySupply } from './energy-supply.ts';
import { defineFact, type FactTools, given, NotAssessed } from './fact.ts';
import { groundSpeedInWinds } from './ground-speed.ts';
import { groundOfItem, heightAtItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking } from './lacking.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { verticalTime } from './vertical-time.ts';

/** A place where a flight can land: its take-off place, or a landing of it. */
export interface LandingPlace {
  readonly item: Item;
  readonly at: LonLat;
  readonly ground: MetresAboveSea;
}

/** What the way to a landing place takes; `energy` is infinite where the wind does not let the craft get there. */
export interface WayDown {
  readonly from: LonLat;
  readonly to: LandingPlace;
  readonly energy: Share;
  readonly distance: Metres;
  /** The speed through the air at which it is flown. */
  readonly airSpeed: MetresPerSecond;
}

/** The flight that turns back, and how fast. */
interface Homing {
  readonly flight: Flight;
  readonly airSpeed: MetresPerSecond;
}

/** The ways from one place: to where the flight took off, and to the landing place that takes least. */
export interface WaysDown {
  readonly home: WayDown;
  readonly nearest: WayDown;
}

/** Where a craft is when it turns back: the place, and the lowest and highest that it can be there. */
export interface TurningPlace {
  readonly at: LonLat;
  readonly lowest: MetresAboveSea;
  readonly highest: MetresAboveSea;
}

/** Speeds through the air for the way home: the cruise speed, and the greatest where the aircraft file has one. */
const homeSpeeds = (tools: FactTools): readonly MetresPerSecond[] => {
  const { cruiseSpeed, maxSpeed } = aircraftOfPlan(tools);
  const cruise = given(cruiseSpeed, 'the cruise-speed of the aircraft, for the way home,').value;
  return maxSpeed !== undefined && maxSpeed.value > cruise ? [cruise, maxSpeed.value] : [cruise];
};

const flightOf = (ref: FlightRef, tools: FactTools): Flight => {
  const flight = tools.plan.flights.find(({ number }) => number === ref.number);
  if (flight === undefined) throw new NotAssessed(`flight ${ref.number} is not among the flights of the plan`);
  return flight;
};

/** The places where a flight can land, the take-off place first. */
export const landingPlaces = defineFact({
  name: 'landing-places',
  derive: (flight: Flight, tools: FactTools): readonly [LandingPlace, ...LandingPlace[]] => {
    const placeOf = (item: Item): LandingPlace => {
      const at = tools.ask(itemPlace, item);
      return { item, at, ground: groundOfItem(item, at, tools) };
    };
    if (flight.first.kind !== 'take-off') {
      throw new NotAssessed('the flight begins with no take-off, so the way home leads nowhere');
    }
    const others = flight.items
      .filter(({ kind }) => kind === 'land')
      .flatMap((item) => {
        const place = orLacking(() => placeOf(item));
        return isMissing(place) ? [] : [place.known];
      });
    return [placeOf(flight.first), ...others];
  },
});

/** Energy of a way down from a place, which first climbs to `height` where it lies lower. */
const wayDown = (
  from: TurningPlace,
  height: MetresAboveSea | undefined,
  to: LandingPlace,
  { flight, airSpeed }: Homing,
  tools: FactTools,
): WayDown => {
  const supply = tools.ask(energySupply, flight);
  const { length, course } = inverse(from.at, to.at);
  const top = aboveSea(Math.max(from.highest, height ?? from.highest));
  const { climbing } = verticalTime(from.lowest, aboveSea(Math.max(from.lowest, height ?? from.lowest)), tools);
  const { descending } = verticalTime(top, aboveSea(Math.min(top, to.ground)), tools);
  const speed = groundSpeedInWinds(course, airSpeed, tools);
  const way = { from: from.at, to, airSpeed, distance: length };
  if (speed.kind === 'cannot-hold') return { ...way, energy: share(Number.POSITIVE_INFINITY) };
  const waiting = Math.max(supply.hover, supply.level(metresPerSecond(0), strongestWind(tools)));
  const energy =
    (tools.plan.lostLink?.after?.value ?? 0) * waiting +
    climbing * supply.climb +
    (length / speed.slowest) * supply.wayHome(airSpeed) +
    descending * supply.descent;
  return { ...way, energy: share(energy) };
};

/** The height that a lost link climbs to, where it flies back; undefined where it does not or the plan says nothing. */
const returnHeight = (
  item: Item,
  highestGround: () => MetresAboveSea,
  tools: FactTools,
): MetresAboveSea | undefined => {
  const { lostLink } = tools.plan;
  if (lostLink?.climbTo === undefined || lostLink.action?.value !== 'fly back and land') return undefined;
  const { value } = lostLink.climbTo;
  if ('aboveGround' in value) return onGround(highestGround(), value.aboveGround);
  return heightAtItem(lostLink.climbTo, item, tools).aboveSea;
};

const waysFrom = (
  places: readonly TurningPlace[],
  height: MetresAboveSea | undefined,
  homing: Homing,
  tools: FactTools,
): WaysDown => {
  const worst = tools
    .ask(landingPlaces, homing.flight)
    .map((to) =>
      places
        .map((from) => wayDown(from, height, to, homing, tools))
        .reduce((most, way) => (way.energy > most.energy ? way : most)),
    );
  const [home] = worst;
  if (home === undefined) throw new NotAssessed('the flight has no place to land at');
  return { home, nearest: worst.reduce((least, way) => (way.energy < least.energy ? way : least), home) };
};

const groundAlong = (leg: Leg, tools: FactTools): { readonly lowest: number; readonly highest: number } => {
  const range = profileRange(tools.ask(legGround, leg));
  if (Number.isNaN(range.lowest)) {
    throw new NotAssessed(`the terrain has no data along a part of the leg to ${leg.to.id.value}`);
  }
  return range;
};

/** Where a craft is on a leg, so many metres from its start. */
const placeOnLeg = (leg: Leg, along: number, tools: FactTools): TurningPlace => {
  const path = tools.ask(pathOfLeg, leg);
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') {
    const ground = groundAlong(leg, tools);
    return {
      at: path.at(along),
      lowest: aboveSea(ground.lowest + craft.height - craft.within),
      highest: aboveSea(ground.highest + craft.height + craft.within),
    };
  }
  const part = path.length > 0 ? Math.min(1, along / path.length) : 1;
  const altitude = aboveSea(craft.start.aboveSea + (craft.end.aboveSea - craft.start.aboveSea) * part);
  return { at: path.at(along), lowest: altitude, highest: altitude };
};

/** The ways down from a place of a leg, so many metres from its start. */
export const waysDownFromLeg = (leg: Leg, along: number, airSpeed: MetresPerSecond, tools: FactTools): WaysDown => {
  const height = returnHeight(leg.to, () => aboveSea(groundAlong(leg, tools).highest), tools);
  const homing = { flight: flightOf(leg.flight, tools), airSpeed };
  return waysFrom([placeOnLeg(leg, along, tools)], height, homing, tools);
};

/**
 * The ways down from both ends of a leg, for each speed that the way home can be flown at: the wait for the link, the climb
 * to its height, the straight way against the worst wind of the window, and the descent. At one airspeed the energy is
 * convex in the distance along a straight leg (time through a steady wind is a gauge of the way, and climb and descent bend
 * upwards, too), so that the most of it lies at an end.
 */
export const legWaysDown = defineFact({
  name: 'leg-ways-down',
  derive: (leg: Leg, tools: FactTools): readonly { readonly start: WaysDown; readonly end: WaysDown }[] =>
    homeSpeeds(tools).map((airSpeed) => ({
      start: waysDownFromLeg(leg, 0, airSpeed, tools),
      end: waysDownFromLeg(leg, tools.ask(pathOfLeg, leg).length, airSpeed, tools),
    })),
});

/**
 * The ways down from the worst place of an area that is flown by hand: one of its corners, low for the climb and high for
 * the descent; for each speed that the way home can be flown at.
 */
export const areaWaysDown = (item: Item, flight: Flight, tools: FactTools): readonly WaysDown[] => {
  const { lower, upper } = bandOf(item);
  const { ring } = tools.ask(areaShape, item);
  const endOf = (written: typeof lower, end: 'least' | 'greatest'): MetresAboveSea =>
    'aboveGround' in written.value
      ? onGround(tools.ask(areaGround, item)[end], written.value.aboveGround)
      : heightAtItem(written, item, tools).aboveSea;
  const [lowest, highest] = [endOf(lower, 'least'), endOf(upper, 'greatest')];
  const height = returnHeight(item, () => tools.ask(areaGround, item).greatest, tools);
  const corners = ring.map((at): TurningPlace => ({ at, lowest, highest }));
  return homeSpeeds(tools).map((airSpeed) => waysFrom(corners, height, { flight, airSpeed }, tools));
};

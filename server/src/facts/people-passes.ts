import { boxAround, boxesMeet, growBox } from '../geo/box.ts';
import { type LegPath, legPath } from '../geo/geodesy.ts';
import type { Interval } from '../geo/interval.ts';
import { nearestToShape } from '../geo/near-shape.ts';
import { partNear } from '../geo/part-near.ts';
import { intervalsInside, type Shape, shapesMeet } from '../geo/shape.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type LonLat, type Metres, metres } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { type KnownPeople, peopleAreas } from './people-areas.ts';
import { routePlaceOf } from './route-order.ts';

/** Areas farther than this beside a way are not looked at, in metres: no distance that a rule asks for is as long. */
export const PEOPLE_REACH = 1000;

/** How one leg, hand-flown area or place of a flight lies to an area with people, seen from above. */
export interface PeopleWay {
  readonly subject: string;
  readonly written: Span;
  readonly item: Item;
  readonly leg?: Leg;
  /** Over the ground to the edge of the area with people; 0 over it. */
  readonly distance: Metres;
  readonly at: LonLat;
  /** Metres from the start of a leg. */
  readonly along?: number;
  /** Where a leg is over the area, in metres along it. */
  readonly inside: readonly Interval[];
  /** What of the area's outline is near; from outside it, distances from it are those from the area. */
  readonly outline: Shape;
  /** Whether the craft stays there: it hovers in a hold, or an area is flown by hand. */
  readonly stays: boolean;
}

export interface PeoplePass {
  readonly area: KnownPeople;
  /** In the order of the flight; never empty. */
  readonly ways: readonly PeopleWay[];
}

export interface PeoplePasses extends Partly {
  readonly passes: readonly PeoplePass[];
}

type Nearest = Pick<PeopleWay, 'distance' | 'at' | 'along' | 'inside' | 'outline'>;

/** What of an outline can lie within the reach of some places. */
const outlineNear = (shape: Shape, corners: readonly LonLat[]): Shape => {
  const around = boxAround(corners);
  return around === undefined ? shape : partNear(shape, growBox(around, PEOPLE_REACH));
};

/** One stretch of the flight before it is held against an area. */
interface Course {
  readonly subject: string;
  readonly written: Span;
  readonly item: Item;
  readonly leg?: Leg;
  readonly corners: readonly LonLat[];
  readonly stays: boolean;
  nearest(shape: Shape): Nearest;
}

const alongPath = (path: LegPath, shape: Shape): Nearest => {
  const inside = intervalsInside(shape, path);
  const outline = outlineNear(shape, [path.from, path.at(path.length / 2), path.to]);
  const [first] = inside;
  if (first !== undefined) {
    return { distance: metres(0), along: first.from, at: path.at(first.from), inside, outline };
  }
  const { distance, along } = nearestToShape(path, outline);
  return { distance, along, at: path.at(along), inside, outline };
};

const courseOfLeg = (leg: Leg, tools: FactTools): Course => {
  const path = tools.ask(pathOfLeg, leg);
  return {
    subject: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
    written: leg.to.id.span,
    item: leg.to,
    leg,
    corners: [path.from, path.at(path.length / 2), path.to],
    stays: false,
    nearest: (shape) => alongPath(path, shape),
  };
};

const nearestOfArea = (own: Shape, ring: readonly LonLat[], at: LonLat, shape: Shape): Nearest => {
  const outline = outlineNear(shape, ring);
  if (shapesMeet(own, shape)) return { distance: metres(0), at, inside: [], outline };
  if (own.kind === 'circle') {
    const { distance } = nearestToShape(legPath(own.centre, own.centre), outline);
    return { distance: metres(Math.max(0, distance - own.radius)), at, inside: [], outline };
  }
  const distances = ring.map((corner, i) => nearestToShape(legPath(corner, ring[i + 1] ?? ring[0] ?? corner), outline));
  return { distance: metres(Math.min(...distances.map(({ distance }) => distance))), at, inside: [], outline };
};

const courseOfArea = (item: Item, tools: FactTools): Course => {
  const { shape: own, ring } = tools.ask(areaShape, item);
  const at = tools.ask(itemPlace, item);
  return {
    subject: `area ${item.id.value}`,
    written: item.id.span,
    item,
    corners: ring,
    stays: true,
    nearest: (shape) => nearestOfArea(own, ring, at, shape),
  };
};

const courseOfPlace = (item: Item, tools: FactTools): Course => {
  const at = tools.ask(itemPlace, item);
  const path = legPath(at, at);
  return {
    subject: `${item.kind} ${item.id.value}`,
    written: item.id.span,
    item,
    corners: [at],
    stays: (item.hold?.value ?? 0) > 0,
    nearest: (shape) => {
      const { distance, inside, outline } = alongPath(path, shape);
      return { distance, at, inside, outline };
    },
  };
};

/** A place counts by itself where the craft stays at it, or where no leg leads to it or from it. */
const isOwnPlace = (item: Item, arriving: Leg | undefined, leaving: Leg | undefined): boolean =>
  item.kind !== 'area' && ((item.hold?.value ?? 0) > 0 || (arriving === undefined && leaving === undefined));

const coursesOf = (item: Item, tools: FactTools): readonly (() => Course)[] => {
  const { arriving, leaving } = routePlaceOf(item, tools);
  return [
    ...(arriving === undefined ? [] : [() => courseOfLeg(arriving, tools)]),
    ...(item.kind === 'area' ? [() => courseOfArea(item, tools)] : []),
    ...(isOwnPlace(item, arriving, leaving) ? [() => courseOfPlace(item, tools)] : []),
  ];
};

/** The courses of a flight in its order; what cannot be placed is lacking. */
export const flightCourses = defineFact({
  name: 'flight-courses',
  derive: (flight: Flight, tools: FactTools): Partly & { readonly courses: readonly Course[] } => {
    const courses: Course[] = [];
    const lacking: Missing[] = [];
    for (const derive of tools.ask(flownItems, flight).flatMap((item) => coursesOf(item, tools))) {
      const course = orLacking(derive);
      if ('missing' in course) lacking.push(course);
      else courses.push(course.known);
    }
    return { courses, lacking };
  },
});

/** How a flight lies to each area with people within 1,000 m of it, area by area. */
export const peoplePasses = defineFact({
  name: 'people-passes',
  derive: (flight: Flight, tools: FactTools): PeoplePasses => {
    const { areas, lacking: unknown } = tools.ask(peopleAreas, tools.plan);
    // Without an area there is nothing that a course could be held against, known or not.
    if (areas.length === 0) return { passes: [], lacking: unknown };
    const { courses, lacking } = tools.ask(flightCourses, flight);
    const ways = new Map<KnownPeople, PeopleWay[]>();
    for (const { corners, nearest, ...course } of courses) {
      const around = boxAround(corners);
      if (around === undefined) continue;
      const near = growBox(around, PEOPLE_REACH);
      for (const area of areas) {
        if (!boxesMeet(area.box, near)) continue;
        const place = nearest(area.shape);
        if (place.distance > PEOPLE_REACH) continue;
        const known = ways.get(area);
        const way = { ...course, ...place };
        if (known === undefined) ways.set(area, [way]);
        else known.push(way);
      }
    }
    const passes = areas.flatMap((area): PeoplePass[] => {
      const own = ways.get(area);
      return own === undefined ? [] : [{ area, ways: own }];
    });
    return { passes, lacking: [...unknown, ...lacking] };
  },
});

/** The way that comes nearest; of equal ones the first. */
export const nearestWay = ({ ways }: PeoplePass): PeopleWay | undefined =>
  ways.reduce<PeopleWay | undefined>(
    (best, way) => (best === undefined || way.distance < best.distance - 1e-6 ? way : best),
    undefined,
  );

import type { Fan } from '../geo/fan.ts';
import type { LegPath } from '../geo/geodesy.ts';
import { legPath } from '../geo/geodesy.ts';
import type { Interval } from '../geo/interval.ts';
import { greatestGroundOn, greatestOn } from '../geo/stretch-height.ts';
import { waysHome } from '../geo/ways-home.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Missing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { areaShape } from './area-shape.ts';
import { type CraftLevels, legLevels } from './craft-levels.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { heightAtItem } from './item-height.ts';
import { orLacking, type Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { type WayHome, wayHome } from './lost-link.ts';
import { routePlaceOf } from './route-order.ts';
import { settled } from './settled-height.ts';

/** Altitudes above mean sea level on a stretch. */
export interface Levels {
  readonly least: number;
  readonly greatest: number;
}

/** The ways home from every place of one leg or from one edge of a hand-flown area. */
export interface Returns {
  /** "leg east-bank to home" */
  readonly subject: string;
  readonly written: Span;
  readonly leg?: Leg;
  readonly item: Item;
  readonly path: LegPath;
  /** The craft itself, before it climbs. */
  craft(stretch: Interval): Levels;
  /** The altitude of the ways home, when the height to climb to is so many metres more than the plan has it. */
  levels(stretch: Interval, raised: number): Levels;
}

export interface ReturnsOfFlight extends Partly {
  readonly way: WayHome;
  readonly returns: readonly Returns[];
}

/** The height to climb to above the sea, by stretch: a height above ground counts from where the link is lost. */
const climbOf = (way: WayHome, path: LegPath, tools: FactTools): ((stretch: Interval) => Levels) => {
  const { climbTo } = way;
  if (climbTo === undefined) {
    const none = { least: Number.NEGATIVE_INFINITY, greatest: Number.NEGATIVE_INFINITY };
    return () => none;
  }
  const height = climbTo.value;
  if (!('aboveGround' in height)) {
    const aboveSea = settled(heightAtItem(climbTo, way.first, tools).aboveSea, climbTo, way.first, tools);
    const level = { least: aboveSea, greatest: aboveSea };
    return () => level;
  }
  const profile = present(tools.world.terrain).groundAlong(path);
  if (profile.a.some(Number.isNaN)) throw new NotAssessed('the terrain has no data along a part of the route');
  return (stretch) => ({
    least: -(greatestOn(profile, 0, 0, [stretch]) ?? Number.NaN) + height.aboveGround,
    greatest: (greatestGroundOn(profile, [stretch]) ?? Number.NaN) + height.aboveGround,
  });
};

const returnsFrom = (
  what: Omit<Returns, 'craft' | 'levels'>,
  craft: (stretch: Interval) => Levels,
  way: WayHome,
  tools: FactTools,
): Returns => {
  const climb = climbOf(way, what.path, tools);
  return {
    ...what,
    craft,
    levels: (stretch, raised) => {
      const own = craft(stretch);
      const up = climb(stretch);
      return { least: Math.max(own.least, up.least + raised), greatest: Math.max(own.greatest, up.greatest + raised) };
    },
  };
};

const ofLeg = (leg: Leg, way: WayHome, tools: FactTools): Returns => {
  const levels: CraftLevels = tools.ask(legLevels, leg);
  const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const what = { subject, written: leg.to.id.span, leg, item: leg.to, path: tools.ask(pathOfLeg, leg) };
  return returnsFrom(
    what,
    (stretch) => ({ least: levels.least(stretch), greatest: levels.greatest(stretch) }),
    way,
    tools,
  );
};

/** From every edge of an area; a way home from inside it leads over one of them or lies beside it as far as that. */
const ofArea = (item: Item, way: WayHome, tools: FactTools): readonly Returns[] => {
  const { ring } = tools.ask(areaShape, item);
  const { lower, upper } = bandOf(item);
  const end = (written: typeof lower, side: 'least' | 'greatest'): number => {
    const height = written.value;
    if ('aboveGround' in height) return tools.ask(areaGround, item)[side] + height.aboveGround;
    return settled(heightAtItem(written, item, tools).aboveSea, written, way.first, tools);
  };
  const craft: Levels = { least: end(lower, 'least'), greatest: end(upper, 'greatest') };
  const what = { subject: `area ${item.id.value}`, written: item.id.span, item };
  return ring.map((corner, i) =>
    returnsFrom({ ...what, path: legPath(corner, ring[i + 1] ?? ring[0] ?? corner) }, () => craft, way, tools),
  );
};

/** The ways home from every place of a flight; undefined where the plan has none for a lost link. */
export const returnsOf = defineFact({
  name: 'returns',
  derive: (flight: Flight, tools: FactTools): ReturnsOfFlight | undefined => {
    const way = tools.ask(wayHome, flight);
    if (way === undefined) return undefined;
    const returns: Returns[] = [];
    const lacking: Missing[] = [];
    const take = (derive: () => readonly Returns[]): void => {
      const found = orLacking(derive);
      if ('missing' in found) lacking.push(found);
      else returns.push(...found.known);
    };
    for (const item of tools.ask(flownItems, flight)) {
      const { arriving } = routePlaceOf(item, tools);
      if (arriving !== undefined) take(() => [ofLeg(arriving, way, tools)]);
      if (item.kind === 'area') take(() => ofArea(item, way, tools));
    }
    return { way, returns, lacking };
  },
});

/** The ways home as lines over the ground. An area may be left at any height of its band: at the lowest, or the highest. */
export const fanOf = (returns: Returns, way: WayHome, raised: number, end: 'lowest' | 'highest', sunk = 0): Fan =>
  waysHome(way.to, returns.path, (stretch) => {
    const { least, greatest } = returns.levels(stretch, raised);
    if (returns.leg !== undefined) return { least: least - sunk, greatest: greatest - sunk };
    const level = (end === 'lowest' ? least : greatest) - sunk;
    return { least: level, greatest: level };
  });

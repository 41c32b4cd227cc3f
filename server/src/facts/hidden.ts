import { blockedLines, type InTheWay } from '../geo/fan.ts';
import { type LegPath, legPath } from '../geo/geodesy.ts';
import { type Interval, mergeIntervals } from '../geo/interval.ts';
import { linesOfSight, RADIUS_FOR_RADIO, RADIUS_FOR_SIGHT } from '../geo/lines-of-sight.ts';
import type { Item, Leg } from '../plan/model.ts';
import { aboveSea, type Metres, type MetresAboveSea } from '../units/frames.ts';
import { isMissing, type Missing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaCourses, levelsInArea, OFF_THE_GROUND } from './area-courses.ts';
import { type CraftLevels, legLevels, straightLevels } from './craft-levels.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { groundOfItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import type { Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { sayMember, type Watcher, watchersOf } from './watchers.ts';

/** Height of the eyes of a standing person above the ground, in metres: common practice, no source. */
export const EYES = 1.6;

/** Where the ground stands in the line from one watcher to the craft. */
export interface Hidden {
  readonly watcher: Watcher;
  /** In metres along the leg; of an area or a place [0, 0], as there is no way along it. Empty where all is in view. */
  readonly stretches: readonly Interval[];
  /** Where the ground rises highest over a line of sight. */
  readonly worst: InTheWay | undefined;
}

export interface HiddenFrom extends Partly {
  /** One for each watcher whose place is known. */
  readonly hidden: readonly Hidden[];
}

/**
 * Altitude of a watcher's eyes. The person stands on the ground of the terrain, also where the plan's own elevation of the
 * take-off place is a few metres off it.
 */
export const eyeOf = (watcher: Watcher, { world }: FactTools): MetresAboveSea => {
  const ground = isMissing(world.terrain) ? undefined : world.terrain.groundAt(watcher.at);
  return aboveSea((ground ?? watcher.ground) + EYES);
};

const unknownGround = (watcher: Watcher, what: string): Missing => ({
  missing: `the terrain has no data in a part of what lies between ${sayMember(watcher.member)} and ${what}`,
});

interface Look {
  readonly hidden: Hidden;
  readonly unknown: boolean;
}

/** From one watcher to one path. */
const look = (watcher: Watcher, path: LegPath, levels: CraftLevels, radius: Metres, tools: FactTools): Look => {
  const terrain = present(tools.world.terrain);
  const fan = linesOfSight({ at: watcher.at, altitude: eyeOf(watcher, tools) }, path, levels.lowestLine, radius);
  const { stretches, worst, unknown } = blockedLines(fan, terrain.underSheet);
  return { hidden: { watcher, stretches, worst }, unknown };
};

/** From every watcher to the paths that stand for one thing. */
const lookAll = (
  first: Item,
  what: string,
  courses: readonly { readonly path: LegPath; readonly levels: CraftLevels }[],
  radius: Metres,
  tools: FactTools,
): HiddenFrom => {
  const { watchers, lacking: unplaced } = tools.ask(watchersOf, first);
  const lacking: Missing[] = [...unplaced];
  const hidden = watchers.map((watcher): Hidden => {
    const looks = courses.map(({ path, levels }) => look(watcher, path, levels, radius, tools));
    if (looks.some(({ unknown }) => unknown)) lacking.push(unknownGround(watcher, what));
    const [only] = looks;
    if (only !== undefined && looks.length === 1) return only.hidden;
    const worst = looks.reduce<InTheWay | undefined>(
      (best, { hidden: one }) =>
        best === undefined || (one.worst !== undefined && one.worst.over > best.over) ? one.worst : best,
      undefined,
    );
    return { watcher, stretches: worst === undefined ? [] : [{ from: 0, to: 0 }], worst };
  });
  return { hidden, lacking };
};

const nameOf = (leg: Leg): string => `leg ${leg.from.id.value} to ${leg.to.id.value}`;

const legFrom = (leg: Leg, radius: Metres, tools: FactTools): HiddenFrom => {
  const course = { path: tools.ask(pathOfLeg, leg), levels: tools.ask(legLevels, leg) };
  return lookAll(leg.flight.first, nameOf(leg), [course], radius, tools);
};

/** Where the ground hides the craft from each watcher along a leg, over the whole of it. */
export const legHidden = defineFact({
  name: 'leg-hidden',
  derive: (leg: Leg, tools: FactTools): HiddenFrom => legFrom(leg, RADIUS_FOR_SIGHT, tools),
});

/** As `legHidden` for radio waves, which bend more than light: from the hands of a standing person. */
export const legMasked = defineFact({
  name: 'leg-masked',
  derive: (leg: Leg, tools: FactTools): HiddenFrom => legFrom(leg, RADIUS_FOR_RADIO, tools),
});

/**
 * Where the ground hides a craft in a hand-flown area, at one end of its band: looked for along the rim and along rows
 * across the area.
 */
const areaFrom = (item: Item, end: 'lower' | 'upper', tools: FactTools): HiddenFrom => {
  const written = bandOf(item)[end];
  const courses = tools.ask(areaCourses, item).map((path) => ({
    path,
    levels: levelsInArea(item, path, written, tools),
  }));
  return lookAll(routePlaceOf(item, tools).flight.first, `area ${item.id.value}`, courses, RADIUS_FOR_SIGHT, tools);
};

export const areaHiddenAtLower = defineFact({
  name: 'area-hidden-at-lower',
  derive: (item: Item, tools: FactTools): HiddenFrom => areaFrom(item, 'lower', tools),
});

export const areaHiddenAtUpper = defineFact({
  name: 'area-hidden-at-upper',
  derive: (item: Item, tools: FactTools): HiddenFrom => areaFrom(item, 'upper', tools),
});

/** Whether the ground hides the craft over a take-off or landing place, from two metres above it upwards. */
export const columnHidden = defineFact({
  name: 'column-hidden',
  derive: (item: Item, tools: FactTools): HiddenFrom => {
    const at = tools.ask(itemPlace, item);
    const low = groundOfItem(item, at, tools) + OFF_THE_GROUND;
    const course = { path: legPath(at, at), levels: straightLevels(low, low, 0) };
    const what = `${item.kind === 'land' ? 'landing' : item.kind} ${item.id.value}`;
    return lookAll(routePlaceOf(item, tools).flight.first, what, [course], RADIUS_FOR_SIGHT, tools);
  },
});

/** What several lists of stretches have in common with the whole path: where any of them is. */
export const anyOf = (lists: readonly (readonly Interval[])[]): readonly Interval[] => mergeIntervals(lists.flat());

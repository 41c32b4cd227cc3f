import { boxAround, wrapLongitude } from '../geo/box.ts';
import { type LegPath, legPath } from '../geo/geodesy.ts';
import { intervalsInside } from '../geo/shape.ts';
import type { Item, WrittenHeight } from '../plan/model.ts';
import { degrees, lonLat } from '../units/frames.ts';
import { areaShape } from './area-shape.ts';
import { type CraftLevels, followingLevels, straightLevels } from './craft-levels.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { heightAtItem } from './item-height.ts';
import { routePlaceOf } from './route-order.ts';
import { settled } from './settled-height.ts';

/** Metres per degree of latitude, at least. */
const DEGREE = 110_500;
/** No area is crossed more often than this. */
const MOST_ROWS = 40;
/** Rows of a hand-flown area lie no farther apart than this, in metres, unless it takes more than `MOST_ROWS`. */
const APART = 10;

/**
 * Paths that stand for a hand-flown area: its rim, and rows across it from west to east, ten metres apart or, in a larger
 * area, a fortieth of it.
 */
export const areaCourses = defineFact({
  name: 'area-courses',
  derive: (item: Item, tools: FactTools): readonly LegPath[] => {
    const { shape, ring } = tools.ask(areaShape, item);
    const rim = ring.map((corner, i) => legPath(corner, ring[i + 1] ?? ring[0] ?? corner));
    const around = boxAround(ring);
    if (around === undefined) return rim;
    const { west, east, south, north } = around;
    const rows = Math.min(MOST_ROWS, Math.ceil(((north - south) * DEGREE) / APART));
    const inner = Array.from({ length: Math.max(0, rows - 1) }, (_, i): readonly LegPath[] => {
      const lat = degrees(south + ((north - south) * (i + 1)) / rows);
      const row = legPath(lonLat(wrapLongitude(west), lat), lonLat(wrapLongitude(east), lat));
      return intervalsInside(shape, row).map(({ from, to }) => legPath(row.at(from), row.at(to)));
    });
    return [...rim, ...inner.flat()];
  },
});

/**
 * A craft near the ground is looked at from this height on, in metres: a standing person. Lower down any fold of the
 * ground hides it, and whoever handles it there has it at hand.
 */
export const OFF_THE_GROUND = 2;

/** How high a craft is that flies along a path in an area at one end of its band, for those who look at it. */
export const levelsInArea = (item: Item, path: LegPath, end: WrittenHeight, tools: FactTools): CraftLevels => {
  const height = end.value;
  if ('aboveGround' in height) {
    const profile = present(tools.world.terrain).groundAlong(path);
    const above = Math.max(OFF_THE_GROUND, height.aboveGround);
    return followingLevels(profile, above, above, `area ${item.id.value}`);
  }
  const { first } = routePlaceOf(item, tools).flight;
  const aboveSea = settled(heightAtItem(end, item, tools).aboveSea, end, first, tools);
  return straightLevels(aboveSea, aboveSea, path.length);
};

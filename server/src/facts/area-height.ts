import type { GroundRange } from '../geo/ground-range.ts';
import type { Item, WrittenHeight } from '../plan/model.ts';
import type { LonLat, Metres, MetresAboveGround } from '../units/frames.ts';
import { metres, overGround } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import { heightAtItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';

export interface AreaHeightPlace {
  readonly value: MetresAboveGround;
  readonly at: LonLat;
  readonly written: WrittenHeight;
}

/** Over any ground inside an area that is flown by hand: the craft may be anywhere in it, at any height of its band. */
export interface AreaHeight {
  readonly least: AreaHeightPlace;
  readonly greatest: AreaHeightPlace;
  readonly error: Metres;
}

/** Least and greatest ground inside an area. */
export const areaGround = defineFact({
  name: 'area-ground',
  derive: (item: Item, tools: FactTools): GroundRange => {
    const range = present(tools.world.terrain).rangeWithin(tools.ask(areaShape, item).ring);
    if (range === undefined) throw new NotAssessed(`the terrain has no data in a part of ${item.id.value}`);
    return range;
  },
});

/** One end of the band over the ground that counts for it: the lowest for the upper end, the highest for the lower. */
const endOfBand = (item: Item, written: WrittenHeight, end: 'upper' | 'lower', tools: FactTools): AreaHeightPlace => {
  // A height above ground is that height over all of the area's ground, and is compared as written.
  if ('aboveGround' in written.value) {
    return { value: written.value.aboveGround, at: tools.ask(itemPlace, item), written };
  }
  const ground = tools.ask(areaGround, item);
  const craft = heightAtItem(written, item, tools).aboveSea;
  return end === 'upper'
    ? { value: overGround(craft, ground.least), at: ground.leastAt, written }
    : { value: overGround(craft, ground.greatest), at: ground.greatestAt, written };
};

export const areaHeight = defineFact({
  name: 'area-height',
  derive: (item: Item, tools: FactTools): AreaHeight => {
    const { lower, upper } = bandOf(item);
    const { terrain } = tools.world;
    return {
      least: endOfBand(item, lower, 'lower', tools),
      greatest: endOfBand(item, upper, 'upper', tools),
      error: isMissing(terrain) ? metres(0) : terrain.error,
    };
  },
});

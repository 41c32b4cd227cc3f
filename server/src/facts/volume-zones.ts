import { boxAround, growBox } from '../geo/box.ts';
import { betweenShapes } from '../geo/near-shape.ts';
import { type Shape, shapesMeet } from '../geo/shape.ts';
import type { Item } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import {
  aboveGround,
  aboveSea,
  type LonLat,
  type Metres,
  type MetresAboveGround,
  type MetresAboveSea,
  metres,
  onGround,
  overGround,
} from '../units/frames.ts';
import type { Airspace, Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { groundOfItem, heightAtItem, itemHeight } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { routePlaceOf } from './route-order.ts';
import { type Around, outlineOfZone } from './zone-entries.ts';
import { betweenEdges, type VerticalEdge, type VerticalEdges } from './zone-vertical.ts';

/** A zone that the craft enters at an item: in a hand-flown area, or on its way straight up or down at one place. */
export interface VolumeZone {
  readonly zone: Zone;
  readonly at: LonLat;
}

export interface VolumeZones extends Partly {
  readonly entries: readonly VolumeZone[];
}

/** One end of the heights that are flown, in both frames, each worked out only when a zone asks for it. */
interface BandEnd {
  aboveGround(): MetresAboveGround;
  aboveSea(): MetresAboveSea;
}

interface Volume {
  readonly shape: Shape;
  readonly ring: readonly LonLat[];
  readonly at: LonLat;
  readonly lower: BandEnd;
  readonly upper: BandEnd;
}

const isOver = (end: BandEnd, edge: VerticalEdge): boolean => {
  if (edge.kind === 'above-ground') return exceeds(end.aboveGround(), edge.height);
  return edge.kind === 'above-sea' && exceeds(end.aboveSea(), edge.altitude);
};

/**
 * An end of an area's band: where ground counts, the area's ground that brings the end farthest out, so that a zone above
 * uneven ground is found even where only a part of the area reaches it.
 */
const endOfArea = (item: Item, end: 'lower' | 'upper', tools: FactTools): BandEnd => {
  const written = bandOf(item)[end];
  return {
    aboveGround: () => {
      if ('aboveGround' in written.value) return written.value.aboveGround;
      const ground = tools.ask(areaGround, item);
      const craft = heightAtItem(written, item, tools).aboveSea;
      return overGround(craft, end === 'upper' ? ground.least : ground.greatest);
    },
    aboveSea: () => {
      if (!('aboveGround' in written.value)) return heightAtItem(written, item, tools).aboveSea;
      const ground = tools.ask(areaGround, item);
      return onGround(end === 'upper' ? ground.greatest : ground.least, written.value.aboveGround);
    },
  };
};

const volumeOfArea = (item: Item, tools: FactTools): Volume => {
  const { shape, ring } = tools.ask(areaShape, item);
  const [lower, upper] = [endOfArea(item, 'lower', tools), endOfArea(item, 'upper', tools)];
  return { shape, ring, at: tools.ask(itemPlace, item), lower, upper };
};

/** From the ground up to the height at which the craft leaves or comes. */
const columnOf = (item: Item, tools: FactTools): Volume => {
  const at = tools.ask(itemPlace, item);
  const top = () => tools.ask(itemHeight, item).leaving;
  return {
    shape: { kind: 'polygons', polygons: [[[at]]] },
    ring: [at],
    at,
    lower: { aboveGround: () => aboveGround(0), aboveSea: () => groundOfItem(item, at, tools) },
    upper: {
      aboveGround: () => top().aboveGround ?? overGround(top().aboveSea, groundOfItem(item, at, tools)),
      aboveSea: () => top().aboveSea,
    },
  };
};

const raised = (end: BandEnd, by: Metres): BandEnd => ({
  aboveGround: () => aboveGround(end.aboveGround() + by),
  aboveSea: () => aboveSea(end.aboveSea() + by),
});

const areNear = (shape: Shape, zone: Zone, beside: Metres, tools: FactTools): boolean =>
  shapesMeet(shape, zone.shape) ||
  (beside > 0 && !exceeds(betweenShapes(shape, tools.ask(outlineOfZone, zone)), beside));

const meets = (volume: Volume, zone: Zone, first: Item, beside: Metres, tools: FactTools): boolean => {
  if (!areNear(volume.shape, zone, beside, tools)) return false;
  const between = ({ floor, ceiling }: VerticalEdges): boolean =>
    (floor.kind === 'open' || isOver(volume.upper, floor)) && !isOver(volume.lower, ceiling);
  return betweenEdges(zone, first, tools, between, (met) => met);
};

/**
 * The zones of an airspace entered at an item; or that lie within so much of what is flown there. Whether the airspace
 * covers the item is not asked.
 */
export const entriesAtItem = (
  item: Item,
  { zonesIn }: Pick<Airspace, 'zonesIn'>,
  tools: FactTools,
  around?: Around,
): VolumeZones => {
  if (item.kind !== 'area' && item.kind !== 'take-off' && item.kind !== 'land') return { entries: [], lacking: [] };
  const flown = item.kind === 'area' ? volumeOfArea(item, tools) : columnOf(item, tools);
  const volume = around === undefined ? flown : { ...flown, upper: raised(flown.upper, around.above) };
  const beside = around?.beside ?? metres(0);
  const box = boxAround(volume.ring);
  const { first } = routePlaceOf(item, tools).flight;
  const entries: VolumeZone[] = [];
  const lacking: Missing[] = [];
  for (const zone of box === undefined ? [] : zonesIn(growBox(box, 1 + beside))) {
    const found = orLacking(() => meets(volume, zone, first, beside, tools));
    if ('missing' in found) lacking.push(found);
    else if (found.known) entries.push({ zone, at: volume.at });
  }
  return { entries, lacking };
};

/** The zones entered at an item: everywhere in an area, straight up or down at a take-off or landing; none at a point. */
export const volumeZones = defineFact({
  name: 'volume-zones',
  derive: (item: Item, tools: FactTools): VolumeZones => {
    if (item.kind !== 'area' && item.kind !== 'take-off' && item.kind !== 'land') return { entries: [], lacking: [] };
    const airspace = present(tools.world.airspace);
    const { entries, lacking } = entriesAtItem(item, airspace, tools);
    const ring = item.kind === 'area' ? tools.ask(areaShape, item).ring : [tools.ask(itemPlace, item)];
    const around = boxAround(ring);
    return around === undefined || airspace.covers(around)
      ? { entries, lacking }
      : { entries, lacking: [{ missing: `the airspace files do not cover ${item.id.value}` }, ...lacking] };
  },
});

import { type Box, boxAround, growBox } from '../geo/box.ts';
import { type LegPath, legPath } from '../geo/geodesy.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { LonLat, Metres } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { type AreaPlan, areaShape } from './area-shape.ts';
import { courseVolume } from './course-volume.ts';
import { legLevels } from './craft-levels.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import type { Course } from './height-near-people.ts';
import { groundOfItem, heightAtItem, itemHeight } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { itemTimes, legTimes, type TimeBand } from './timeline.ts';

/** A piece of a path, in metres along it, with the lowest and highest altitude above the sea at both ends, in metres. */
export interface FlownPiece {
  readonly from: number;
  readonly to: number;
  readonly lowest: readonly [number, number];
  readonly highest: readonly [number, number];
}

/** How far a volume reaches beyond what is flown, sideways and upwards. Downwards nothing is added. */
export interface Reach {
  readonly beside: Metres;
  readonly above: Metres;
}

/** What a flight takes up in space and time on one leg, in one area, or on the spot. */
export interface FlownSpace {
  readonly subject: string;
  readonly written: Span;
  readonly course: Course;
  /** Without length where the craft stays at a place. Absent of an area. */
  readonly path?: LegPath;
  readonly area?: AreaPlan;
  /** Of an area one that stands for all of it. */
  readonly pieces: readonly FlownPiece[];
  /** Around the ground plan, without any reach. */
  readonly box: Box;
  readonly geography: Reach;
  readonly volume: Reach;
  readonly times: TimeBand;
}

export interface FlownSpaces extends Partly {
  readonly spaces: readonly FlownSpace[];
}

/** A leg that follows the ground is cut into pieces of this length, in metres, each between its lowest and highest. */
const PIECE = 25;

const piecesOfLeg = (leg: Leg, path: LegPath, tools: FactTools): readonly FlownPiece[] => {
  const levels = tools.ask(legLevels, leg);
  const straight = tools.ask(legAltitudes, leg).kind === 'straight' && path.length > 0;
  const count = straight ? 1 : Math.max(1, Math.ceil(path.length / PIECE));
  return Array.from({ length: count }, (_, i): FlownPiece => {
    const stretch = { from: (path.length * i) / count, to: (path.length * (i + 1)) / count };
    if (straight) {
      const line = levels.lowestLine(stretch);
      return { ...stretch, lowest: line, highest: line };
    }
    const [least, greatest] = [levels.least(stretch), levels.greatest(stretch)];
    return { ...stretch, lowest: [least, least], highest: [greatest, greatest] };
  });
};

const level = (lowest: number, highest: number): readonly FlownPiece[] => [
  { from: 0, to: 0, lowest: [lowest, lowest], highest: [highest, highest] },
];

const reachesOf = (course: Course, tools: FactTools): Pick<FlownSpace, 'geography' | 'volume'> => {
  const { geography, beside, above } = courseVolume(course, tools);
  return { geography: { beside: geography, above: geography }, volume: { beside, above } };
};

/** A metre wider, for what a geodesic leaves the box of its ends by. */
const aroundOf = (places: readonly LonLat[]): Box => growBox(given(boxAround(places), 'a place'), 1);

const spaceOfLeg = (leg: Leg, tools: FactTools): FlownSpace => {
  const path = tools.ask(pathOfLeg, leg);
  const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const course = { subject, item: leg.to, leg };
  const { departure, arrival } = legTimes(leg, tools);
  return {
    subject,
    written: leg.to.id.span,
    course,
    path,
    pieces: piecesOfLeg(leg, path, tools),
    box: aroundOf([path.from, path.at(path.length / 2), path.to]),
    ...reachesOf(course, tools),
    times: { earliest: departure.earliest, latest: arrival.latest },
  };
};

const timesAt = (item: Item, tools: FactTools): TimeBand => {
  const { arrival, departure } = itemTimes(item, tools);
  return { earliest: arrival.earliest, latest: departure.latest };
};

const spaceOfArea = (item: Item, tools: FactTools): FlownSpace => {
  const area = tools.ask(areaShape, item);
  const subject = `area ${item.id.value}`;
  const { lower, upper } = bandOf(item);
  const lowest =
    'aboveGround' in lower.value
      ? tools.ask(areaGround, item).least + lower.value.aboveGround
      : heightAtItem(lower, item, tools).aboveSea;
  const highest =
    'aboveGround' in upper.value
      ? tools.ask(areaGround, item).greatest + upper.value.aboveGround
      : heightAtItem(upper, item, tools).aboveSea;
  return {
    subject,
    written: item.id.span,
    course: { subject, item },
    area,
    pieces: level(lowest, highest),
    box: aroundOf(area.ring),
    ...reachesOf({ subject, item }, tools),
    times: timesAt(item, tools),
  };
};

/** Straight up or down at a take-off or landing; at the height of a hold elsewhere. */
const spaceOfPlace = (item: Item, tools: FactTools): FlownSpace => {
  const at = tools.ask(itemPlace, item);
  const subject = `${item.kind} ${item.id.value}`;
  const top = tools.ask(itemHeight, item).arriving.aboveSea;
  const ground = item.kind === 'point' ? top : groundOfItem(item, at, tools);
  return {
    subject,
    written: item.id.span,
    course: { subject, item },
    path: legPath(at, at),
    pieces: level(Math.min(top, ground), Math.max(top, ground)),
    box: aroundOf([at]),
    ...reachesOf({ subject, item }, tools),
    times: timesAt(item, tools),
  };
};

const isPlace = ({ kind, hold }: Item): boolean =>
  kind === 'take-off' || kind === 'land' || (kind === 'point' && (hold?.value ?? 0) > 0);

/** All that a flight takes up, in its order. What cannot be told is lacking. */
export const flownSpaces = defineFact({
  name: 'flown-spaces',
  derive: (flight: Flight, tools: FactTools): FlownSpaces => {
    const spaces: FlownSpace[] = [];
    const lacking: Missing[] = [];
    const take = (derive: () => FlownSpace): void => {
      const space = orLacking(derive);
      if ('missing' in space) lacking.push(space);
      else spaces.push(space.known);
    };
    for (const item of tools.ask(flownItems, flight)) {
      const { arriving } = routePlaceOf(item, tools);
      if (arriving !== undefined) take(() => spaceOfLeg(arriving, tools));
      if (item.kind === 'area') take(() => spaceOfArea(item, tools));
      else if (isPlace(item)) take(() => spaceOfPlace(item, tools));
    }
    return { spaces, lacking };
  },
});

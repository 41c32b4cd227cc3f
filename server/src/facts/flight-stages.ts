import type { Flight, Item, Leg } from '../plan/model.ts';
import { type Seconds, seconds } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { flownItems, flownLegs } from './flown-legs.ts';
import { groundOfItem, itemHeight } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { type Lasting, legTime } from './leg-time.ts';
import { photoStops } from './photo-stops.ts';
import { LEVEL, type VerticalTime, verticalTime } from './vertical-time.ts';

export type StageKind =
  /** Straight up at the take-off place, and straight down at the landing. */
  | 'climb-out'
  | 'let-down'
  | 'leg'
  /** A stop to turn at a corner. */
  | 'turn'
  /** Waiting at a point. */
  | 'hold'
  /** Flying an area by hand. */
  | 'area';

/** One thing after the other that a flight consists of. */
export interface Stage extends Lasting, VerticalTime {
  readonly kind: StageKind;
  /** Where it takes place; of a leg the item that it ends at. */
  readonly item: Item;
  readonly leg?: Leg;
  /** Why its time is not known; it then lasts from no time at all to any. */
  readonly lacks?: Missing;
}

export interface Stages extends Partly {
  readonly stages: readonly Stage[];
}

/** Courses that differ by less are flown through without a stop to turn. Common practice, no source. */
const CORNER = 10;

const steady = (time: Seconds): Lasting & VerticalTime => ({ ...LEVEL, shortest: time, longest: time });

const UNKNOWN: Lasting & VerticalTime = {
  ...LEVEL,
  shortest: seconds(0),
  longest: seconds(Number.POSITIVE_INFINITY),
};

const stage = (kind: StageKind, item: Item, derive: () => Lasting & VerticalTime, leg?: Leg): Stage => {
  const time = orLacking(derive);
  const whole = 'known' in time ? time.known : { ...UNKNOWN, lacks: time };
  const { shortest, longest, climbing, descending } = whole;
  return {
    kind,
    item,
    shortest,
    longest,
    climbing,
    descending,
    ...(leg !== undefined && { leg }),
    ...('lacks' in whole && { lacks: whole.lacks }),
  };
};

const upAndDown = (item: Item, way: 'climb-out' | 'let-down', tools: FactTools): Stage =>
  stage(way, item, () => {
    const ground = groundOfItem(item, tools.ask(itemPlace, item), tools);
    const { leaving, arriving } = tools.ask(itemHeight, item);
    const time =
      way === 'climb-out'
        ? verticalTime(ground, leaving.aboveSea, tools)
        : verticalTime(arriving.aboveSea, ground, tools);
    const lasts = seconds(time.climbing + time.descending);
    return { ...time, shortest: lasts, longest: lasts };
  });

const isCorner = (before: Leg, after: Leg, tools: FactTools): boolean => {
  const [one, other] = [tools.ask(pathOfLeg, before), tools.ask(pathOfLeg, after)];
  if (one.length === 0 || other.length === 0) return false;
  const turn = Math.abs(one.course - other.course) % 360;
  return Math.min(turn, 360 - turn) > CORNER;
};

/** What happens at an item once the craft is there: the wait of a point, or the flight by hand inside an area. */
const stayAt = (item: Item): readonly Stage[] => {
  if (item.kind === 'area') {
    return [stage('area', item, () => steady(given(item.area?.lasts, `the time of ${item.id.value} (for)`).value))];
  }
  if (item.hold === undefined && item.kind !== 'hold') return [];
  return [stage('hold', item, () => steady(given(item.hold, 'the time of a hold').value))];
};

/** Whether the craft may stop for photos on a leg: it does, or that cannot be told. */
const mayStop = (leg: Leg, tools: FactTools): boolean => {
  const stops = orLacking(() => tools.ask(photoStops, leg));
  return !('known' in stops) || stops.known > 0;
};

/**
 * All that a flight consists of, in its order: the climb at the take-off, legs, turns, waits, areas, the descent at the
 * landing. A stage whose time cannot be worked out lasts from nought to any time, so that what is before and after it keeps
 * its bounds.
 */
export const flightStages = defineFact({
  name: 'flight-stages',
  derive: (flight: Flight, tools: FactTools): Stages => {
    const legs = new Map(tools.ask(flownLegs, flight).map((leg) => [leg.to, leg]));
    const turnTime = orLacking(() => aircraftOfPlan(tools).turnTime?.value);
    const turning = 'known' in turnTime ? turnTime.known : undefined;
    const stages: Stage[] = [];
    let before: Leg | undefined;
    for (const item of tools.ask(flownItems, flight)) {
      const leg = legs.get(item);
      if (leg !== undefined) {
        const last = before;
        if (turning !== undefined && last !== undefined) {
          const corner = orLacking(() => isCorner(last, leg, tools));
          if ('known' in corner && corner.known) stages.push(stage('turn', leg.from, () => steady(turning)));
        }
        stages.push(stage('leg', item, () => tools.ask(legTime, leg), leg));
        if (item.partOf?.endsLine === true && mayStop(leg, tools)) {
          stages.push(stage('hold', item, () => steady(tools.ask(photoStops, leg))));
        }
        before = leg;
      }
      if (item.kind === 'take-off') stages.push(upAndDown(item, 'climb-out', tools));
      stages.push(...stayAt(item));
      if (item.kind === 'land') stages.push(upAndDown(item, 'let-down', tools));
    }
    return { stages, lacking: stages.flatMap(({ lacks }) => (lacks === undefined ? [] : [lacks])) };
  },
});

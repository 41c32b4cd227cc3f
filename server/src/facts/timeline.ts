import type { Flight, Item, Leg, Plan } from '../plan/model.ts';
import { type Instant, instant, type Seconds, seconds } from '../units/frames.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flightStages, type Stage } from './flight-stages.ts';
import type { Partly } from './lacking.ts';
import { routePlaceOf } from './route-order.ts';
import { windowOf } from './weather-in-window.ts';

/** The times at which something can happen. */
export interface TimeBand {
  readonly earliest: Instant;
  readonly latest: Instant;
}

/**
 * When the craft comes to a place and when it leaves it. At a take-off it arrives when it lifts off and departs from the
 * top of its climb; at a landing it arrives overhead and departs when it has touched down.
 */
export interface PassingTimes {
  readonly arrival: TimeBand;
  readonly departure: TimeBand;
}

/**
 * The times of a flight. They hold for every flight that begins and ends inside its window, in any wind of the window; one
 * that does not fit into the window begins at its start and goes on past its end. Where the time of a stage cannot be
 * worked out (`lacking`), the bands are wider, never wrong: at most from the earliest known time to the window's end.
 */
export interface Timeline extends Partly {
  readonly items: ReadonlyMap<Item, PassingTimes>;
  /** `departure` is from the leg's start, `arrival` at its end. */
  readonly legs: ReadonlyMap<Leg, PassingTimes>;
  readonly takeOff: TimeBand;
  readonly landing: TimeBand;
  /** Time in the air. `longest` is infinite where the time of a stage is not known. */
  readonly shortest: Seconds;
  readonly longest: Seconds;
  /** The window it was worked out for: its own, else the plan's, and between the flights around it. */
  readonly from: Instant;
  readonly until: Instant;
  /** When it begins after flights that took longest; its own or the plan's beginning where their time is not known. */
  readonly start: Instant;
}

const SECOND = 1000;

const later = (at: Instant, time: number): Instant => instant(at + time * SECOND);

/** Time between two flights that the plan asks for: changes of battery after the landing. */
export const groundTime = (flight: Flight): Seconds =>
  seconds(flight.items.reduce((sum, item) => sum + (item.kind === 'battery' ? (item.lasts?.value ?? 0) : 0), 0));

const sum = (stages: readonly Stage[], end: 'shortest' | 'longest'): number =>
  stages.reduce((total, stage) => total + stage[end], 0);

/** When flights can begin and end, each from those before and after it. */
interface FlightHours {
  readonly from: Instant;
  readonly until: Instant;
  /** When it begins if everything before it takes longest; infinite where nothing bounds that. */
  readonly latestStart: number;
}

const hoursOfFlights = defineFact({
  name: 'hours-of-flights',
  derive: (plan: Plan, tools: FactTools): ReadonlyMap<number, FlightHours> => {
    const window = windowOf(plan);
    const times = plan.flights.map((flight) => {
      const { stages } = tools.ask(flightStages, flight);
      return { flight, shortest: sum(stages, 'shortest'), longest: sum(stages, 'longest') };
    });
    const ends: Instant[] = [];
    let limit = window.until;
    for (const { flight, shortest } of [...times].reverse()) {
      const own = flight.first.window?.until?.value.at;
      const pause = ends.length === 0 ? 0 : groundTime(flight);
      const end = instant(Math.min(later(limit, -pause), own ?? Number.POSITIVE_INFINITY));
      ends.unshift(end);
      limit = later(end, -shortest);
    }
    const hours = new Map<number, FlightHours>();
    let from = window.from;
    let latestStart: number = window.from;
    times.forEach(({ flight, shortest, longest }, i) => {
      const own = flight.first.window?.from?.value.at ?? Number.NEGATIVE_INFINITY;
      from = instant(Math.max(from, own));
      latestStart = Math.max(latestStart, own);
      hours.set(flight.number, { from, until: ends[i] ?? window.until, latestStart });
      from = later(from, shortest + groundTime(flight));
      latestStart += (longest + groundTime(flight)) * SECOND;
    });
    return hours;
  },
});

interface Moment {
  readonly least: number;
  readonly most: number;
}

/** Seconds after the take-off at which each stage begins and ends. */
const moments = (stages: readonly Stage[]): readonly (readonly [Moment, Moment])[] => {
  let [least, most] = [0, 0];
  return stages.map((stage) => {
    const begin = { least, most };
    least += stage.shortest;
    most += stage.longest;
    return [begin, { least, most }] as const;
  });
};

export const timeline = defineFact({
  name: 'timeline',
  derive: (flight: Flight, tools: FactTools): Timeline => {
    const { stages, lacking } = tools.ask(flightStages, flight);
    const hours = tools.ask(hoursOfFlights, tools.plan).get(flight.number);
    if (hours === undefined) throw new NotAssessed(`flight ${flight.number} is not among the flights of the plan`);
    const { from, until, latestStart } = hours;
    const shortest = sum(stages, 'shortest');
    const bandAt = ({ least, most }: Moment): TimeBand => {
      const earliest = later(from, least);
      const inWindow = later(until, least - shortest);
      const overrun = latestStart + most * SECOND;
      const latest = Math.max(earliest, inWindow, Number.isFinite(overrun) ? overrun : earliest);
      return { earliest, latest: instant(latest) };
    };
    const items = new Map<Item, PassingTimes>();
    const legs = new Map<Leg, PassingTimes>();
    const pass = (item: Item, arrival: TimeBand, departure: TimeBand): void => {
      items.set(item, { arrival: items.get(item)?.arrival ?? arrival, departure });
    };
    const spans = moments(stages);
    const end = spans[spans.length - 1]?.[1] ?? { least: 0, most: 0 };
    const start = bandAt({ least: 0, most: 0 });
    stages.forEach((stage, i) => {
      const [begin, done] = spans[i] ?? [end, end];
      const [at, after] = [bandAt(begin), bandAt(done)];
      if (stage.leg !== undefined) {
        legs.set(stage.leg, { departure: at, arrival: after });
        if (!items.has(stage.leg.from)) pass(stage.leg.from, at, at);
        pass(stage.item, after, after);
      } else pass(stage.item, at, after);
    });
    passTextItems(flight, items, start, bandAt(end));
    return {
      items,
      legs,
      takeOff: start,
      landing: bandAt(end),
      shortest: seconds(shortest),
      longest: seconds(sum(stages, 'longest')),
      from,
      until,
      start: instant(Number.isFinite(latestStart) ? Math.max(from, latestStart) : from),
      lacking,
    };
  },
});

/** Items of the text without a stage of their own lie between the stages of those around them. */
const passTextItems = (flight: Flight, items: Map<Item, PassingTimes>, start: TimeBand, end: TimeBand): void => {
  let last = start;
  flight.items.forEach((item, i) => {
    const known = items.get(item);
    if (known !== undefined) {
      last = known.departure;
      return;
    }
    const next = flight.items.slice(i + 1).find((other) => items.has(other));
    const departure = (next && items.get(next)?.arrival) ?? end;
    items.set(item, { arrival: last, departure });
    last = departure;
  });
};

const flightNumbered = (number: number, { plan }: FactTools): Flight => {
  const flight = plan.flights.find((each) => each.number === number);
  if (flight === undefined) throw new NotAssessed(`flight ${number} is not among the flights of the plan`);
  return flight;
};

const timesOfItem = defineFact({
  name: 'times-of-item',
  derive: (item: Item, tools: FactTools): PassingTimes => {
    const flight = flightNumbered(routePlaceOf(item, tools).flight.number, tools);
    const times = tools.ask(timeline, flight).items.get(item);
    if (times === undefined) throw new NotAssessed(`${item.id.value} belongs to no flight that could be read`);
    return times;
  },
});

const timesOfLeg = defineFact({
  name: 'times-of-leg',
  derive: (leg: Leg, tools: FactTools): PassingTimes => {
    const times = tools.ask(timeline, flightNumbered(leg.flight.number, tools)).legs.get(leg);
    if (times !== undefined) return times;
    throw new NotAssessed(`the leg to ${leg.to.id.value} belongs to no flight that could be read`);
  },
});

/** When the craft comes to an item and when it leaves it. Throws `NotAssessed` where the plan has no window. */
export const itemTimes = (item: Item, tools: FactTools): PassingTimes => tools.ask(timesOfItem, item);

/** When a leg is flown: `departure` from its start, `arrival` at its end. Throws as `itemTimes` does. */
export const legTimes = (leg: Leg, tools: FactTools): PassingTimes => tools.ask(timesOfLeg, leg);

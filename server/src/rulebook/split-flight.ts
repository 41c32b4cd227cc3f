import { flightEnergy, type StageEnergy } from '../facts/flight-energy.ts';
import { orLacking } from '../facts/lacking.ts';
import { timeline } from '../facts/timeline.ts';
import { legWaysDown, type WayDown } from '../facts/way-home.ts';
import { hasPlace } from '../plan/flights.ts';
import type { Flight, Item, WrittenHeight } from '../plan/model.ts';
import { takesMoreThan } from '../units/exceeds.ts';
import { share } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import type { Edit, Fix } from './finding.ts';
import type { RuleTools } from './rule.ts';
import { splitPattern } from './split-pattern.ts';
import { inPlainText } from './words.ts';

/** A place of the flight at which it could turn home for another battery. */
interface Stop {
  /** The item of the text, and the line of it where it is a pattern. */
  readonly item: Item;
  readonly line?: number;
  /** What the flight has taken until it leaves there, and what the way home takes. */
  readonly used: number;
  readonly home: WayDown;
}

/** The way out again is taken to cost so much of the way home: the wind may turn the two around. */
const WAY_OUT = 1.25;

const bestHome = (step: StageEnergy, tools: RuleTools): WayDown | undefined => {
  const { leg } = step.stage;
  const options = leg === undefined ? [] : tools.ask(legWaysDown, leg).map(({ end }) => end.home);
  const [first, ...others] = options;
  return first && others.reduce((best, way) => (way.energy < best.energy ? way : best), first);
};

/** Every place from which the flight can go on after a landing: points, areas, and ends of a pattern's lines. */
const stopsOf = (flight: Flight, tools: RuleTools): readonly Stop[] => {
  const { stages } = tools.ask(flightEnergy, flight);
  const stops: Stop[] = [];
  // From the end, so that what is left when the next leg begins is known: waits at a place belong to it.
  let leaving = stages[stages.length - 1]?.after ?? 0;
  for (const step of [...stages].reverse()) {
    if (step.stage.kind !== 'leg') continue;
    const used = 1 - leaving;
    leaving = step.before;
    const { item } = step.stage;
    const { partOf } = item;
    const home = item.kind === 'land' || partOf?.endsLine === false ? undefined : bestHome(step, tools);
    if (home === undefined) continue;
    stops.push(partOf === undefined ? { item, used, home } : { item: partOf.pattern, line: partOf.line, used, home });
  }
  return stops.reverse();
};

const sayHeight = (height: WrittenHeight): string => `${sayNumber(height.number, 4)} ${height.unit} ${height.datum}`;

/** The text of a landing at the take-off place, a battery and a take-off, to stand after an item and what belongs to it. */
const insertionAfter = (item: Item, flight: Flight, set: number, tools: RuleTools): Edit => {
  const at = flight.items.indexOf(item);
  const next = flight.items.findIndex((other, n) => n > at && hasPlace(other));
  const last = (next < 0 ? undefined : flight.items[next - 1]) ?? item;
  const { first } = flight;
  const home = inPlainText(first.id.value);
  const { after, indent, style } = last.insertion;
  const { eol } = tools.plan;
  const climb = first.climbTo === undefined ? undefined : `climb-to: ${sayHeight(first.climbTo)}`;
  const text =
    style === 'flow'
      ? `, { land: ${home} }, { battery: set ${set} }, { take-off: ${home}${climb === undefined ? '' : `, ${climb}`} }`
      : [
          `- land: ${home}`,
          `- battery: set ${set}`,
          `- take-off: ${home}`,
          ...(climb === undefined ? [] : [`  ${climb}`]),
        ]
          .map((line) => `${eol}${indent}${line}`)
          .join('');
  return { span: after, text };
};

/** The last stop from which the flight still lands with its reserve, given what it had taken when it took off anew. */
const lastWithReserve = (stops: readonly Stop[], from: number, base: number, reserve: number): number =>
  stops.findLastIndex((stop, i) => i > from && stop.used - base + stop.home.energy <= 1 - reserve);

/** Landings after which the rest of the flight suffices; undefined where no such landings are found. */
const splits = (flight: Flight, reserve: number, tools: RuleTools): readonly Stop[] | undefined => {
  const stops = stopsOf(flight, tools);
  const { used } = tools.ask(flightEnergy, flight);
  const chosen: Stop[] = [];
  let last = -1;
  let base = 0;
  while (used - base > 1 - reserve) {
    const found = lastWithReserve(stops, last, base, reserve);
    const stop = stops[found];
    // Nothing is left to fly after the last place of the route.
    if (stop === undefined || found === stops.length - 1) return undefined;
    chosen.push(stop);
    if (stop.line !== undefined) return chosen;
    last = found;
    base = stop.used - stop.home.energy * WAY_OUT;
  }
  return chosen;
};

const fitsIntoWindow = (flight: Flight, stops: readonly Stop[], tools: RuleTools): boolean => {
  const times = orLacking(() => tools.ask(timeline, flight));
  if (isMissing(times)) return true;
  const { longest, start, until } = times.known;
  const more = stops.reduce((sum, { home }) => sum + (3 * home.distance) / home.airSpeed + 120, 0);
  return longest + more <= (until - start) / 1000;
};

/**
 * Fixes that land for another battery in the middle of a flight, after the last places from which it still lands with its
 * reserve. None where the flight does not begin at a take-off, where no such places are found, or where the window is too
 * short for them.
 */
export const splitFlight = (flight: Flight, reserve: number, tools: RuleTools): readonly Fix[] => {
  if (flight.first.kind !== 'take-off' || takesMoreThan(share(reserve), share(1))) return [];
  const found = orLacking(() => splits(flight, reserve, tools));
  if (isMissing(found) || found.known === undefined || !fitsIntoWindow(flight, found.known, tools)) return [];
  const stops = found.known;
  const [last] = stops.slice(-1);
  if (last?.line !== undefined) {
    const fix = stops.length === 1 ? splitPattern(last.item, last.line, tools) : undefined;
    return fix === undefined ? [] : [fix];
  }
  if (stops.length === 0) return [];
  const names = stops.map(({ item }) => item.id.value).join(' and ');
  return [
    {
      title: `Land for another battery after ${names}: add "land", "battery" and "take-off"`,
      effect: 'changes-flight',
      edits: stops.map(({ item }, i) => insertionAfter(item, flight, i + 2, tools)),
    },
  ];
};

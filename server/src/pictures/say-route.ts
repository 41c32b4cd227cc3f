import { areaHeight } from '../facts/area-height.ts';
import { sayEnergy } from '../facts/energy-supply.ts';
import { energyThere } from '../facts/energy-there.ts';
import type { FactTools } from '../facts/fact.ts';
import { flightStages } from '../facts/flight-stages.ts';
import { type CraftHeight, groundOfItem, itemHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { legCourse } from '../facts/leg-course.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { isPattern, patternPoints } from '../facts/pattern.ts';
import { patternHeights, patternLines } from '../facts/pattern-heights.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { legSlantRanges } from '../facts/slant-range.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import { itemTimes, type TimeBand } from '../facts/timeline.ts';
import { sayMember } from '../facts/watchers.ts';
import type { WayDown } from '../facts/way-home.ts';
import { legSeen } from '../facts/who-sees.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import { sayMinutes } from '../rulebook/flight-words.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { sayTime } from '../units/calendar.ts';
import { type Instant, type MetresAboveSea, overGround, overTakeOff } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

/** A fact of a route item in plain words, or why it cannot be said. Whoever shows it escapes it. */
export type Said = string | { readonly missing: string };

export const said = (derive: () => string): Said => {
  const answer = orLacking(derive);
  return 'known' in answer ? answer.known : { missing: answer.missing };
};

const metres = (value: number): string => sayMeasure({ value, unit: 'm' });

/** Where the craft comes to an item: to the first point of a pattern, else to the item itself. */
export const entryOf = (item: Item, tools: FactTools): Item => {
  const points = isPattern(item) ? orLacking(() => tools.ask(patternPoints, item)) : undefined;
  return (points !== undefined && 'known' in points ? points.known[0] : undefined) ?? item;
};

/** The last place at which the craft is for an item. */
const exitOf = (item: Item, tools: FactTools): Item => {
  const points = isPattern(item) ? orLacking(() => tools.ask(patternPoints, item)) : undefined;
  return (points !== undefined && 'known' in points ? points.known[points.known.length - 1] : undefined) ?? item;
};

export const legTo = (item: Item, tools: FactTools): Leg | undefined => {
  const place = orLacking(() => routePlaceOf(entryOf(item, tools), tools));
  return 'known' in place ? place.known.arriving : undefined;
};

/** The height at an item in the frames of the controller, the law and the chart. */
export interface HeightsSaid {
  readonly aboveTakeOff: Said;
  readonly aboveGround: Said;
  readonly aboveSea: Said;
}

export const sayHeights = (item: Item, flight: Flight, tools: FactTools): HeightsSaid => {
  const at = entryOf(item, tools);
  const craft = (): CraftHeight => tools.ask(itemHeight, at)[item.kind === 'take-off' ? 'leaving' : 'arriving'];
  const over = (sea: MetresAboveSea): string =>
    metres(overTakeOff(sea, tools.ask(takeOffElevation, flight.first).value));
  if (item.kind === 'area') {
    return {
      aboveTakeOff: said(() => `entered at ${over(craft().aboveSea)}`),
      aboveGround: said(() => {
        const { least, greatest } = tools.ask(areaHeight, item);
        return `${metres(least.value)} to ${metres(greatest.value)}`;
      }),
      aboveSea: said(() => `entered at ${metres(craft().aboveSea)}`),
    };
  }
  return {
    aboveTakeOff: said(() => over(craft().aboveSea)),
    aboveGround: said(() => {
      const { aboveGround, aboveSea } = craft();
      return metres(aboveGround ?? overGround(aboveSea, groundOfItem(at, tools.ask(itemPlace, at), tools)));
    }),
    aboveSea: said(() => metres(craft().aboveSea)),
  };
};

/** `38.1 m (125 ft) to 61 m (200.1 ft)` above the ground along the leg to an item, or on all lines of a pattern. */
export const sayClearance = (item: Item, leg: Leg, tools: FactTools): Said =>
  said(() => {
    const { least, greatest, lacking } = tools.ask(legHeight, leg);
    const open = lacking.length === 0 ? '' : '; in part not assessed';
    const whole = `${metres(least.value)} to ${metres(greatest.value)}${open}`;
    if (!isPattern(item)) return whole;
    const lines = tools.ask(patternHeights, item);
    const rest = lines.lacking.length === 0 ? '' : '; in part not assessed';
    return `${whole}; on its lines ${metres(lines.least.place.value)} to ${metres(lines.greatest.place.value)}${rest}`;
  });

const direction = (degrees: number): string => `${String(((Math.round(degrees) % 360) + 360) % 360).padStart(3, '0')}°`;

/** `073° true, 058° magnetic`: rounded first and subtracted then, as on paper. */
export const sayCourse = (leg: Leg, tools: FactTools): Said =>
  said(() => {
    const { fromTrueNorth, byCompass } = tools.ask(legCourse, leg);
    const magnetic =
      'known' in byCompass
        ? `${direction(Math.round(fromTrueNorth) - Math.round(byCompass.known.variation.value))} magnetic`
        : 'magnetic not assessed';
    return `${direction(fromTrueNorth)} true, ${magnetic}`;
  });

export const sayLength = (item: Item, leg: Leg, tools: FactTools): Said =>
  said(() => {
    const { length } = tools.ask(pathOfLeg, leg);
    if (!isPattern(item)) return sayDistance(length);
    const lines = tools.ask(patternLines, item).reduce((sum, line) => sum + tools.ask(pathOfLeg, line).length, 0);
    return `${sayDistance(length)}, then ${sayDistance(lines)} on its lines`;
  });

const offsetOf = ({ plan }: FactTools): number =>
  plan.window?.from?.value.offsetMinutes ?? plan.window?.until?.value.offsetMinutes ?? 0;

/** `06:43`, by the clock of the plan's window. */
export const sayClock = (at: Instant, tools: FactTools): string =>
  sayTime({ at, offsetMinutes: offsetOf(tools) }).slice(11, 16);

const sayBand = ({ earliest, latest }: TimeBand, tools: FactTools): string => {
  const [early, late] = [sayClock(earliest, tools), sayClock(latest, tools)];
  return early === late ? early : `${early} to ${late}`;
};

export const sayArrival = (item: Item, tools: FactTools): Said =>
  said(() => sayBand(itemTimes(entryOf(item, tools), tools).arrival, tools));

const between = (shortest: number, longest: number): string => {
  if (!Number.isFinite(longest)) return `at least ${sayMinutes(shortest)}`;
  const [least, most] = [sayMinutes(shortest), sayMinutes(longest)];
  return least === most ? least : `${least} to ${most}`;
};

/** When the craft comes to an item and leaves it, after the take-off: `3.2 min to 3.5 min`. */
export const sayAfterTakeOff = (item: Item, flight: Flight, tools: FactTools): Said =>
  said(() => {
    const { stages } = tools.ask(flightStages, flight);
    const [entry, exit] = [entryOf(item, tools), exitOf(item, tools)];
    let [shortest, longest] = [0, 0];
    let arrival: string | undefined;
    let departure: string | undefined;
    for (const stage of stages) {
      const isHere = stage.item === entry && stage.kind !== 'leg';
      if (isHere) arrival ??= between(shortest, longest);
      shortest += stage.shortest;
      longest += stage.longest;
      if (stage.item === entry) arrival ??= between(shortest, longest);
      if (stage.item === exit) departure = between(shortest, longest);
    }
    if (arrival === undefined) return 'not flown';
    if (item.kind === 'take-off') return `climbs for ${departure ?? arrival}`;
    if (item.kind === 'land') return `${arrival}; down after ${departure ?? arrival}`;
    return departure === undefined || departure === arrival ? arrival : `${arrival}; leaves after ${departure}`;
  });

export interface EnergySaid {
  readonly left: string;
  readonly home: string;
  readonly nearest: string;
}

const sayWay = (way: WayDown, energy: (share: number) => string): string =>
  Number.isFinite(way.energy)
    ? `${way.to.item.id.value}, ${sayDistance(way.distance)}: takes ${energy(way.energy)}`
    : `${way.to.item.id.value}, ${sayDistance(way.distance)}: the wind does not let the aircraft get there`;

/** Energy at an item, on the way home and to the nearest landing place, against the worst wind of the window. */
export const sayEnergyThere = (item: Item, tools: FactTools): EnergySaid | { readonly missing: string } => {
  const found = orLacking(() => tools.ask(energyThere, exitOf(item, tools)));
  if (!('known' in found)) return { missing: found.missing };
  const { supply, left, home, nearest, lacking } = found.known;
  const energy = (share: number): string => sayEnergy(supply, share);
  return {
    left: `${lacking.length === 0 ? '' : 'at most '}${energy(left)}`,
    home: sayWay(home, energy),
    nearest: sayWay(nearest, energy),
  };
};

/** Who has the aircraft in view along a leg, and from how far away at most. */
export const saySeen = (leg: Leg, tools: FactTools): Said =>
  said(() => {
    const { length } = tools.ask(pathOfLeg, leg);
    const { seen, lacking } = tools.ask(legSeen, leg);
    const ranges = orLacking(() => tools.ask(legSlantRanges, leg).ranges);
    const each = seen.map(({ watcher, stretches }) => {
      const name = sayMember(watcher.member);
      const covered = stretches.reduce((sum, { from, to }) => sum + to - from, 0);
      const far = 'known' in ranges ? ranges.known.find((one) => one.watcher.member === watcher.member) : undefined;
      const from = far === undefined ? '' : `, from at most ${sayDistance(far.range)}`;
      if (covered >= length - 1) return `${name} all of it${from}`;
      if (covered < 1) return `${name} none of it`;
      const parts = stretches.map((part) => `${sayDistance(part.from)} to ${sayDistance(part.to)}`);
      return `${name} ${parts.slice(0, 3).join(', ')}${parts.length > 3 ? ' and more' : ''}${from}`;
    });
    const open = lacking.length === 0 ? '' : '; in part not assessed';
    return `${each.length === 0 ? 'nobody is known to watch' : each.join('; ')}${open}`;
  });

/** `12.3 %` of a share */
export const sayShare = (share: number): string => `${sayNumber(share * 100)} %`;

import { sayEnergy } from '../facts/energy-supply.ts';
import type { FactTools } from '../facts/fact.ts';
import { flightEnergy } from '../facts/flight-energy.ts';
import { itemPlace } from '../facts/item-place.ts';
import { timeline } from '../facts/timeline.ts';
import type { Flight, Item } from '../plan/model.ts';
import { sayMinutes } from '../rulebook/flight-words.ts';
import { sayMeasure } from '../rulebook/say-measure.ts';
import { sayPosition } from '../units/say.ts';
import { type Markup, markup, type Part } from './markup.ts';
import { lines, table, terms, Unsaid } from './page-parts.ts';
import {
  legTo,
  said,
  sayAfterTakeOff,
  sayArrival,
  sayClearance,
  sayClock,
  sayCourse,
  sayEnergyThere,
  sayHeights,
  sayLength,
  saySeen,
} from './say-route.ts';

/** Numbers of the items as tables and pictures have them, in the order of the text. */
export const numbersOf = ({ plan }: FactTools): ((item: Item) => string) => {
  const numbers = new Map(plan.items.map((item, i) => [item, String(i + 1)]));
  return (item) => numbers.get(item) ?? '';
};

const HEADS = [
  'Place',
  'Height there',
  'Leg to it',
  'Above the ground along it',
  'After take-off',
  'Energy left there',
  'Break off to',
] as const;

const speedOf = ({ leg, pattern, area }: Item): Part => {
  const say = (value: number, is = ''): string => `${sayMeasure({ value, unit: 'm/s' })} ${is}`.trim();
  if (area?.speed !== undefined) return say(area.speed.value, 'inside');
  const terms = pattern?.terms ?? leg;
  if (terms?.speed !== undefined) return say(terms.speed.value, terms.speedIs);
  return leg?.follows === undefined ? undefined : 'follows the terrain';
};

const row = (item: Item, flight: Flight, number: string, open: Unsaid, tools: FactTools): readonly Part[] => {
  const leg = legTo(item, tools);
  const heights = sayHeights(item, flight, tools);
  const energy = leg === undefined ? undefined : sayEnergyThere(item, tools);
  const isEnergy = energy !== undefined && 'left' in energy;
  const stays = item.kind === 'hold' || item.kind === 'battery';
  const lasts = item.area?.lasts ?? item.hold ?? item.lasts;
  return [
    lines(
      markup`<b>${number}</b> ${item.id.value}`,
      item.kind,
      stays ? undefined : open.cell(said(() => sayPosition(tools.ask(itemPlace, item)))),
    ),
    stays
      ? undefined
      : lines(
          open.cell(heights.aboveTakeOff, 'above take-off '),
          open.cell(heights.aboveGround, 'above ground '),
          open.cell(heights.aboveSea, 'above sea '),
        ),
    leg && lines(open.cell(sayLength(item, leg, tools)), open.cell(sayCourse(leg, tools)), speedOf(item)),
    leg && lines(open.cell(sayClearance(item, leg, tools)), open.cell(saySeen(leg, tools), 'seen by ')),
    lines(
      stays ? undefined : open.cell(sayAfterTakeOff(item, flight, tools)),
      stays ? undefined : open.cell(sayArrival(item, tools), 'clock '),
      lasts === undefined ? undefined : `stays ${sayMinutes(lasts.value)}`,
    ),
    isEnergy ? energy.left : energy && open.cell(energy),
    isEnergy
      ? lines(energy.nearest, energy.nearest === energy.home ? undefined : `home: ${energy.home}`)
      : energy && 'not assessed',
  ];
};

/** Duration, window, energy of a flight. */
const totals = (flight: Flight, open: Unsaid, tools: FactTools): Markup =>
  terms([
    [
      'In the air',
      open.cell(
        said(() => {
          const { shortest, longest } = tools.ask(timeline, flight);
          if (!Number.isFinite(longest)) return `at least ${sayMinutes(shortest)}`;
          const [least, most] = [sayMinutes(shortest), sayMinutes(longest)];
          return least === most ? most : `${least} to ${most}`;
        }),
      ),
    ],
    [
      'Take-off',
      open.cell(
        said(() => {
          const { takeOff } = tools.ask(timeline, flight);
          return `between ${sayClock(takeOff.earliest, tools)} and ${sayClock(takeOff.latest, tools)}`;
        }),
      ),
    ],
    [
      'Energy used',
      open.cell(
        said(() => {
          const { supply, used, lacking } = tools.ask(flightEnergy, flight);
          return `${lacking.length === 0 ? '' : 'at least '}${sayEnergy(supply, used)} of what is usable, in the worst wind of the window`;
        }),
      ),
    ],
  ]);

/** More rows than these are no table for a person. */
const MOST_ROWS = 500;

/** All items of a flight with what a crew reads off on the way: heights, leg, clearance, time, energy, where to break off. */
export const routeTable = (flight: Flight, name: string, tools: FactTools): Markup => {
  const open = new Unsaid();
  const numberOf = numbersOf(tools);
  const shown = flight.items.filter(({ kind }) => kind !== 'unread');
  const left = shown.length - MOST_ROWS;
  const rows = shown.slice(0, MOST_ROWS).map((item) => row(item, flight, numberOf(item), open, tools));
  const unread = flight.items.filter(({ kind }) => kind === 'unread').length;
  return markup`${totals(flight, open, tools)}${table(`Route of ${name}`, HEADS, rows)}${
    left > 0 ? markup`<p>${String(left)} more items of this flight are not shown here.</p>` : undefined
  }${unread === 0 ? undefined : markup`<p>${String(unread)} of its items could not be read.</p>`}${open.reasons}`;
};

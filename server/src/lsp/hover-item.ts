import { areaHeight } from '../facts/area-height.ts';
import type { FactTools } from '../facts/fact.ts';
import { type CraftHeight, groundOfItem, itemHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { type LegCourse, legCourse } from '../facts/leg-course.ts';
import { type HeightPlace, legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { isPattern, patternPoints } from '../facts/pattern.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import { type Said, sayAfterTakeOff, sayArrival, sayEnergyThere, saySeen } from '../pictures/say-route.ts';
import type { Flight, Item, Leg, LegTerms } from '../plan/model.ts';
import type { Margin } from '../review/outcome.ts';
import { sayLimit, sayMeasure } from '../rulebook/say-measure.ts';
import { endOf, startOf } from '../text/span.ts';
import { overGround, overTakeOff } from '../units/frames.ts';
import { sayDistance, sayPosition } from '../units/say.ts';
import { tellHarm } from './hover-harm.ts';
import { tellPattern } from './hover-pattern.ts';
import { escapeMarkdown } from './markdown.ts';

const say = (value: number): string => sayMeasure({ value, unit: 'm' });

/** A line of facts in Markdown, or why it cannot be said. What is missing is never passed over. */
const line = (name: string, derive: () => string): string => {
  const answer = orLacking(derive);
  return `${name}: ${'missing' in answer ? `not assessed: ${escapeMarkdown(answer.missing)}` : answer.known}`;
};

const flightOf = (item: Item, tools: FactTools): Flight | undefined =>
  tools.plan.flights.find((flight) => flight.items.includes(item));

/** One height in the three frames a pilot meets: the controller's, the law's, the chart's. */
const sayThreeFrames = (craft: CraftHeight, item: Item, flight: Flight, tools: FactTools): string => {
  const overStart = orLacking(() => overTakeOff(craft.aboveSea, tools.ask(takeOffElevation, flight.first).value));
  const ground = orLacking(
    () => craft.aboveGround ?? overGround(craft.aboveSea, groundOfItem(item, tools.ask(itemPlace, item), tools)),
  );
  return [
    'missing' in overStart
      ? `above take-off not assessed (${escapeMarkdown(overStart.missing)})`
      : `${say(overStart.known)} above take-off`,
    'missing' in ground
      ? `above ground not assessed (${escapeMarkdown(ground.missing)})`
      : `${say(ground.known)} above ground`,
    `${say(craft.aboveSea)} above mean sea level`,
  ].join(', ');
};

/** The height of an item in three frames. At take-off and landing it is the upper end of the way straight up or down. */
export const tellHeight = (item: Item, tools: FactTools): readonly string[] => {
  const flight = flightOf(item, tools);
  if (flight === undefined) return [];
  if (item.kind === 'area') return tellArea(item, tools);
  if (item.kind === 'take-off' || item.kind === 'land') {
    const way = item.kind === 'take-off' ? 'Climbs straight up to' : 'Comes straight down from';
    return [line(way, () => sayThreeFrames(tools.ask(itemHeight, item).leaving, item, flight, tools))];
  }
  if (item.kind !== 'point') return [];
  return [line('Height', () => sayThreeFrames(tools.ask(itemHeight, item).arriving, item, flight, tools))];
};

const tellArea = (item: Item, tools: FactTools): readonly string[] => [
  line('Above the ground anywhere inside', () => {
    const { least, greatest } = tools.ask(areaHeight, item);
    return `at least ${say(least.value)} (at ${sayPosition(least.at)}), at most ${say(greatest.value)} (at ${sayPosition(greatest.at)})`;
  }),
];

const sayExtreme = ({ value, along, at }: HeightPlace): string =>
  `${say(value)} at ${sayDistance(along)} (${sayPosition(at)})`;

/** `073°`, `000°` for north */
const sayDirection = (whole: number): string => `${String((whole + 360) % 360).padStart(3, '0')}°`;

/** `15° E`, `0°` */
const sayVariation = (whole: number): string => {
  if (whole === 0) return '0°';
  return `${Math.abs(whole)}° ${whole < 0 ? 'W' : 'E'}`;
};

/**
 * `course 073° true, 058° magnetic (variation 15° E, WMM2025)`. Course and variation are rounded first and subtracted then,
 * as a pilot does it on paper: three numbers that do not add up would look like a mistake.
 */
const sayCourse = ({ fromTrueNorth, byCompass }: LegCourse): string => {
  const course = Math.round(fromTrueNorth);
  const said = `course ${sayDirection(course)} true`;
  if ('missing' in byCompass) return `${said}, magnetic not assessed (${escapeMarkdown(byCompass.missing)})`;
  const { value, model } = byCompass.known.variation;
  const variation = Math.round(value);
  return `${said}, ${sayDirection(course - variation)} magnetic (variation ${sayVariation(variation)}, ${model})`;
};

/** The leg that ends at an item: length, course, and the least and greatest height over the ground under all of it. */
const tellLeg = (leg: Leg, tools: FactTools): readonly string[] => [
  line(`Leg from ${escapeMarkdown(leg.from.id.value)}`, () => {
    const { length } = tools.ask(pathOfLeg, leg);
    if (length === 0) return 'no length';
    return `${sayDistance(length)}, ${sayCourse(tools.ask(legCourse, leg))}`;
  }),
  line('Above the ground along it', () => {
    const { least, greatest, lacking } = tools.ask(legHeight, leg);
    const rest = lacking.map(({ missing }) => `; not assessed: ${escapeMarkdown(missing)}`).join('');
    return `least ${sayExtreme(least)}, greatest ${sayExtreme(greatest)}${rest}`;
  }),
];

/** Where the craft comes to an item: to the first point of a pattern, else to the item itself. */
const entryOf = (item: Item, tools: FactTools): Item => {
  const points = isPattern(item) ? orLacking(() => tools.ask(patternPoints, item)) : undefined;
  return (points !== undefined && 'known' in points ? points.known[0] : undefined) ?? item;
};

/** A line with a fact that is said in plain words elsewhere, too. */
const plainLine = (name: string, said: Said): string =>
  `${name}: ${typeof said === 'string' ? escapeMarkdown(said) : `not assessed: ${escapeMarkdown(said.missing)}`}`;

/** When the craft comes there, who sees it on the way, what is left and what the ways down take. */
const tellFlight = (item: Item, flight: Flight, leg: Leg, tools: FactTools): readonly string[] => {
  const energy = sayEnergyThere(item, tools);
  return [
    plainLine('Arrives by the clock', sayArrival(item, tools)),
    plainLine('After take-off', sayAfterTakeOff(item, flight, tools)),
    plainLine('Seen on the way', saySeen(leg, tools)),
    ...('missing' in energy
      ? [plainLine('Energy', energy)]
      : [
          plainLine('Energy left there', energy.left),
          plainLine('Way home', energy.home),
          ...(energy.nearest === energy.home ? [] : [plainLine('Nearest landing place', energy.nearest)]),
        ]),
  ];
};

const MARGINS_SHOWN = 3;

const isIn = ({ span }: Item, at: Margin['at']): boolean =>
  at.anchor.document === span.anchor.document && startOf(at) >= startOf(span) && endOf(at) <= endOf(span);

/** The tightest margins that were found at an item or on the leg to it. */
const tellMargins = (item: Item, margins: readonly Margin[]): readonly string[] =>
  margins
    .filter(({ at }) => isIn(item, at))
    .slice(0, MARGINS_SHOWN)
    .map(
      ({ rule, measured, limit }) =>
        `Margin: ${escapeMarkdown(`${sayMeasure(measured, limit)}, limit ${sayLimit(limit)}, set by ${limit.setBy}`)} (\`${rule}\`)`,
    );

/** What is worked out for a route item, in words. */
export const tellItem = (item: Item, tools: FactTools, margins: readonly Margin[] = []): string => {
  const flight = flightOf(item, tools);
  const title = `**${escapeMarkdown(`${item.kind} ${item.id.value}`)}**`;
  if (item.kind === 'unread') return `${title}: could not be read`;
  if (flight === undefined) return title;
  const leg = routePlaceOf(entryOf(item, tools), tools).arriving;
  const placed = item.kind === 'take-off' || item.kind === 'land' || item.kind === 'point' || item.kind === 'area';
  return [
    title,
    ...(placed ? [line('Position', () => sayPosition(tools.ask(itemPlace, item)))] : []),
    ...tellHeight(item, tools),
    ...tellPattern(item, tools),
    ...(leg === undefined ? [] : tellLeg(leg, tools)),
    ...(leg === undefined ? [] : [`Speed: ${saySpeed(item)}`, ...tellFlight(item, flight, leg, tools)]),
    ...(leg === undefined ? [] : tellHarm(leg, tools)),
    ...tellMargins(item, margins),
  ].join('  \n');
};

const saySpeedOf = (terms: LegTerms | undefined): string => {
  const speed = terms?.speed;
  if (speed === undefined) return 'not stated';
  return `${sayMeasure({ value: speed.value, unit: 'm/s' })} ${terms?.speedIs ?? ''}`.trim();
};

const saySpeed = ({ leg, pattern }: Item): string =>
  pattern === undefined
    ? saySpeedOf(leg)
    : `${saySpeedOf(pattern.terms)}; on the way to the first point ${saySpeedOf(leg)}`;

import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { legHeight } from '../facts/leg-height.ts';
import type { Flight, Leg } from '../plan/model.ts';
import { sayFlight } from '../rulebook/flight-words.ts';
import { sayDistance, sayMetresAndFeet, sayNumber } from '../units/say.ts';
import { type Breach, type LineMark, marksOn, sayBreach } from './breaches.ts';
import { type FlightLine, lineOfFlight, lineOfLeg } from './flight-line.ts';
import { flightMap } from './flight-map.ts';
import { heightProfile } from './height-profile.ts';
import { mapScene } from './map-scene.ts';
import { type Markup, markup } from './markup.ts';
import { bullets } from './page-parts.ts';
import { numbersOf } from './route-table.ts';

const sayExtremes = (leg: Leg, tools: FactTools): string => {
  const answer = orLacking(() => tools.ask(legHeight, leg));
  if (!('known' in answer)) return '';
  const { least, greatest } = answer.known;
  return `Least ${sayNumber(least.value)} m above the ground, ${sayDistance(least.along)} along; greatest ${sayNumber(greatest.value)} m, ${sayDistance(greatest.along)} along.`;
};

const sayLine = (line: FlightLine, marks: readonly LineMark[]): string => {
  const { limit, lacking, length } = line;
  return [
    `Ground, flight${limit === undefined ? '' : ` and the limit of ${sayMetresAndFeet(limit.limit.value)} above the ground`} over ${sayDistance(length)}.`,
    ...marks.map(({ breach, along }) => `${sayBreach(breach)} at ${sayDistance(along)}: ${breach.finding.message}.`),
    ...(lacking.length === 0 ? [] : [`Not drawn: ${lacking.join('; ')}.`]),
  ].join(' ');
};

/** The picture of a leg, small enough for a hover. */
export const pictureOfLeg = (leg: Leg, breaches: readonly Breach[], tools: FactTools): Markup => {
  const line = lineOfLeg(leg, 60, tools);
  const marks = marksOn(line, breaches, tools);
  return heightProfile(line, marks, {
    id: 'leg',
    title: `Height along leg ${leg.from.id.value} to ${leg.to.id.value}`,
    words: `${sayExtremes(leg, tools)} ${sayLine(line, marks)}`,
    width: 480,
    height: 230,
    numberOf: () => '',
  });
};

const WIDTH = 760;

/** On a narrow screen a picture keeps a size at which it can be read, and scrolls, also by keyboard. */
const scrolling = (name: string, picture: Markup): Markup =>
  markup`<div class="wide" role="region" aria-label="${name}" tabindex="0">${picture}</div>`;

/** So many things near the flight are listed below its map; the rest is counted. */
const MOST_LISTED = 20;

/** The height over the whole of a flight, and what of it could not be drawn. */
export const pictureOfFlight = (flight: Flight, breaches: readonly Breach[], tools: FactTools): Markup => {
  const line = lineOfFlight(flight, 240, tools);
  const marks = marksOn(line, breaches, tools);
  const numberOf = numbersOf(tools);
  const name = sayFlight(flight, tools);
  const drawn = heightProfile(line, marks, {
    id: `profile-${flight.number}`,
    title: `Height along ${name}`,
    words: sayLine(line, marks),
    width: WIDTH,
    height: 320,
    numberOf: ({ item }) => numberOf(item),
  });
  return markup`<figure>${scrolling(`Height along ${name}`, drawn)}<figcaption>Height along ${name}: the hatched ground, the flight as a thick line, the limit dashed; a striped stretch is beyond a limit. ${
    line.limit?.limit.from === 'nearest ground'
      ? 'The law measures to the nearest ground in any direction, so beside a slope the aircraft may be farther above the dashed line than the limit.'
      : undefined
  }${line.lacking.length === 0 ? undefined : ` Not drawn: ${line.lacking.join('; ')}.`}</figcaption></figure>\n`;
};

/** The map of a plan with the words for its signs. */
export const pictureOfPlan = (breaches: readonly Breach[], tools: FactTools): Markup => {
  const scene = mapScene(tools);
  const numberOf = numbersOf(tools);
  const shapes = [...scene.zones, ...scene.people, ...scene.obstacles];
  const words = `${scene.items.length} items and ${scene.legs.length} legs; the text below names what is near.`;
  const map = flightMap(scene, breaches, {
    id: 'map',
    title: 'Map of the flight',
    words,
    width: WIDTH,
    height: 560,
    numberOf,
  });
  if (map === undefined) return markup`<p>No map: no position of the route is known.</p>\n`;
  const { zones, people, sight, wayHomeSaid, noReturn, lacking } = scene;
  const key = [
    'thick line with arrows: the flight; triangle up: take-off; triangle down: landing; ring: point; cross: crew',
    ...(shapes.length === 0
      ? []
      : [
          `near: ${shapes
            .slice(0, MOST_LISTED)
            .map(({ name, said }) => `${name} (${said})`)
            .join('; ')}${shapes.length > MOST_LISTED ? `; and ${shapes.length - MOST_LISTED} more` : ''}`,
        ]),
    ...(zones.length > 0 ? ['slanted lines in a dashed edge: zone'] : []),
    ...(people.length > 0 ? ['dots in a dotted edge: people'] : []),
    ...(sight === undefined ? [] : [`dash and dot: ${sight.said}, around each of the crew`]),
    ...(wayHomeSaid === undefined ? [] : [`dotted lines: ${wayHomeSaid}`]),
    ...(noReturn.length > 0 ? ['diamond: point of no return, from which home is out of reach'] : []),
    'square with a cross: stop; triangle with a stroke: caution; disc: note',
    ...lacking.map((reason) => `not drawn: ${reason}`),
  ];
  return markup`<figure>${scrolling('Map', map)}<figcaption>Map, north up.${bullets(key)}</figcaption></figure>\n`;
};

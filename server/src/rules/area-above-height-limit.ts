import { bandOf, roomBetween } from '../facts/area-band.ts';
import { areaHeight } from '../facts/area-height.ts';
import { type AreaBeyond, areaBeyondLimit } from '../rulebook/area-limit.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import { worseBeside } from '../rulebook/height-blame.ts';
import { HEIGHT_SOURCES, type HeightLimit, heightLimit, sayFromNearest } from '../rulebook/height-limit.ts';
import { inSteps } from '../rulebook/in-steps.ts';
import { defineRule } from '../rulebook/rule.ts';
import { excessAt, sayStructuresOfItem } from '../rulebook/structure-exception.ts';
import { lowerBy } from '../rulebook/written-height.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayMetresAgainst } from '../units/say.ts';

/** How far an area reaches, in a message. */
const sayReach = (beyond: Exclude<AreaBeyond, { kind: 'within' }>, limit: HeightLimit): string => {
  if (beyond.kind === 'over' && beyond.distance !== undefined)
    return `gets ${sayFromNearest(beyond.distance, beyond.height, limit)}`;
  const height = `reaches ${sayMetresAgainst(beyond.height, limit.value)} above the lowest ground inside it`;
  return limit.from === 'nearest ground'
    ? `${height}, and is not proven to be nearer to ground in another direction`
    : height;
};

export default defineRule({
  visits: 'item',
  title: 'an area flown by hand reaches above the height limit',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Inside the area the pilot may be anywhere, also over its lowest ground. A top that is written above the sea or above take-off is highest above ground there.',
  condition:
    'The upper height of the area, over the lowest ground inside it, is not above the limit: 400 ft (121.92 m) in the United States, 120 m (393.7 ft) in the EU open category, or what the house has set below that. The EU counts from the closest point of the ground in any direction; the area is judged part by part, and where a part cannot be proven to be near enough, the height straight above its ground decides, which is never less strict.',
  exceptions:
    'Near a structure the law allows more: see `point-above-height-limit`. The area is judged part by part: each is within reach of a structure and not above what that allows, or below the limit.',
  mend: 'Lower the top of the area, write it above ground (AGL), or make the area smaller.',
  sources: HEIGHT_SOURCES,
  needs: ['terrain'],
  waivable: ['14 CFR 107.51(b)'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 5 m AGL\n    to: 125 m AGL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 5 m AGL\n    to: 40 m AGL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
  },

  *check(item, tools) {
    if (item.kind !== 'area') return;
    const limit = heightLimit(tools);
    const { greatest, error } = tools.ask(areaHeight, item);
    const measured = { value: greatest.value, unit: 'm', frame: 'above ground' } as const;
    const name = `area ${item.id.value}`;
    const place = { at: greatest.at };
    if (!exceeds(greatest.value, limit.value)) {
      yield {
        margin: {
          subject: name,
          at: greatest.written.span,
          measured,
          limit: limit.measure,
          room: limit.value - greatest.value,
          error,
          place,
        },
      };
      return;
    }
    const beyond = yield* inSteps(tools.ask(areaBeyondLimit, item).finish());
    if (beyond.kind === 'within') return;
    // What is lowered must stay above the lower end of the band.
    const room = roomBetween(bandOf(item));
    const excess = excessAt(item, greatest.written, greatest.value - limit.value, limit, tools);
    const isRoom = room === undefined || room > excess;
    const cause = elevationToBlame(item, greatest.written, tools);
    const distance = beyond.kind === 'over' ? beyond.distance : undefined;
    const own = distance ?? beyond.height;
    const worse = yield* inSteps(worseBeside(item, own, limit, tools));
    yield {
      found: {
        at: greatest.written.span,
        subject: name,
        message: `${name} ${sayReach(beyond, limit)}${worse?.said ?? ''}; ${limit.said}${sayStructuresOfItem(item, limit, tools)}`,
        measured: {
          value: worse?.value ?? own,
          unit: 'm',
          frame: distance === undefined ? 'above ground' : 'above surface',
        },
        limit: distance === undefined ? limit.measure : { ...limit.measure, frame: 'above surface' },
        place: worse?.place ?? { at: beyond.at },
        ...(limit.span === undefined ? {} : { related: [{ at: limit.span, message: 'the house set the limit here' }] }),
        ...(cause === undefined ? {} : { cause }),
        fixes:
          cause === undefined && isRoom && worse === undefined
            ? [lowerBy(`the top of ${item.id.value}`, greatest.written, excess)]
            : [],
      },
    };
  },
});

import { bandOf, roomBetween } from '../facts/area-band.ts';
import { areaHeight } from '../facts/area-height.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import { defineRule } from '../rulebook/rule.ts';
import { raiseBy } from '../rulebook/written-height.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';

/** Metres above its highest ground to which the fix raises an area: common practice, no source. */
const ABOVE_GROUND = 5;

export default defineRule({
  visits: 'item',
  title: 'an area flown by hand reaches below the ground',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'A lower height written above the sea or above take-off lies below the ground where the ground inside the area is higher. The pilot would trust a number that cannot be flown.',
  condition:
    'The lower height of the area is not below the highest ground inside it. An area may begin at the ground: 0 m above ground is allowed.',
  mend: 'Raise the lower height, or write it above ground (AGL).',
  sources: [{ cite: 'the ground', edition: 'as the terrain file states', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 395 m AMSL\n    to: 440 m AMSL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.5, lon: -120.499 } }\n    from: 405 m AMSL\n    to: 440 m AMSL\n    for: 4 min\n  - point: near\n    at: 47.5, -120.4995\n    altitude: 30 m AGL\n  - land: home\n',
  },

  *check(item, tools) {
    if (item.kind !== 'area') return;
    const { least } = tools.ask(areaHeight, item);
    if (!fallsShortOf(least.value, aboveGround(0))) return;
    const name = `area ${item.id.value}`;
    const by = ABOVE_GROUND - least.value;
    // The band must keep some height: over the same ground its upper end has to lie above the raised lower end.
    const room = roomBetween(bandOf(item));
    const isRoom = room === undefined || room > by;
    const cause = elevationToBlame(item, least.written, tools);
    yield {
      found: {
        at: least.written.span,
        subject: name,
        message: `${name} begins ${sayNumber(-least.value, 2)} m below the highest ground inside it; the terrain of the plan sets that`,
        measured: { value: least.value, unit: 'm', frame: 'above ground' },
        limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
        place: { at: least.at },
        ...(cause === undefined ? {} : { cause }),
        fixes:
          cause === undefined && isRoom ? [raiseBy(`the lower height of ${item.id.value}`, least.written, by)] : [],
      },
    };
  },
});

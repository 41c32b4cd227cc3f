import { areaHeight } from '../facts/area-height.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { greatestOutside, legHeight } from '../facts/leg-height.ts';
import { HEIGHT_SOURCES, heightLimit } from '../rulebook/height-limit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isAllowedAt, legAllowance } from '../rulebook/structure-exception.ts';
import type { Span } from '../text/span.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { aboveGround, type Metres, type MetresAboveGround, metres } from '../units/frames.ts';
import { sayCount, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** Metres by which a height may differ from one that is written: what limits are compared to. */
const SAME = 0.001;

interface Near {
  readonly name: string;
  readonly at: Span;
  readonly height: MetresAboveGround;
  readonly error: Metres;
}

export default defineRule({
  visits: 'flight',
  title: 'the flight is nearer to the height limit than the terrain is exact',
  question: 'How high?',
  level: { 'us-recreational': 'note', 'us-part-107': 'note', 'eu-open': 'note', 'eu-specific': 'note' },
  basis: 'law',
  why: 'Terrain data have an error of their own. Where the flight is within the limit by less than that error, the real ground may be lower than the data say.',
  condition:
    'The greatest height above the ground plus the stated vertical error of the terrain is within the limit. One note for the whole flight. A house may add a distance of its own (`terrain-margin`); then it is a caution. Heights that are written above ground and reached at their own point are not concerned, nor what is within reach of a structure that lets it be higher.',
  mend: 'Stay lower by the error of the terrain, or use better terrain. A house can ask for more distance by `terrain-margin` in its settings.',
  sources: HEIGHT_SOURCES,
  needs: ['terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 520 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 490 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(flight, tools) {
    const limit = heightLimit(tools);
    const margin = tools.settings.limits.terrainMargin;
    const places: Near[] = [];
    const take = (name: string, at: Span, height: MetresAboveGround, terrainError: Metres): void => {
      const error = metres(terrainError + (margin?.value.value ?? 0));
      if (exceeds(height, limit.value) || !exceeds(aboveGround(height + error), limit.value)) return;
      places.push({ name, at, height, error });
    };
    const lacking: Missing[] = [];
    for (const leg of tools.ask(flownLegs, flight)) {
      const height = orLacking(() => tools.ask(legHeight, leg));
      const craft = orLacking(() => tools.ask(legAltitudes, leg));
      if ('missing' in height) lacking.push(height);
      if ('missing' in height || 'missing' in craft || craft.known.kind === 'follows') continue;
      lacking.push(...height.known.lacking);
      const { error } = height.known;
      const { start, end } = craft.known;
      // What a structure lets be higher is not near its limit. What is lacking of one is told where it decides.
      const allowance = orLacking(() => legAllowance(leg, limit, tools).allowed);
      const greatest = greatestOutside(leg, 'missing' in allowance ? [] : allowance.known, tools);
      if (greatest === undefined) continue;
      const isWritten = [start, end].some(
        ({ aboveGround: own }) => own !== undefined && Math.abs(own - greatest.value) < SAME,
      );
      if (isWritten) continue;
      take(`leg ${leg.from.id.value} to ${leg.to.id.value}`, leg.to.id.span, greatest.value, error);
    }
    for (const item of flight.items) {
      if (item.kind !== 'area') continue;
      const height = orLacking(() => tools.ask(areaHeight, item));
      if ('missing' in height) lacking.push(height);
      if ('missing' in height || height.known.greatest.written.datum === 'AGL') continue;
      const { written } = height.known.greatest;
      const allowed = orLacking(() => isAllowedAt(item, written, limit, tools));
      if ('known' in allowed && allowed.known) continue;
      take(`area ${item.id.value}`, item.id.span, height.known.greatest.value, height.known.error);
    }
    const [first] = places;
    if (first === undefined) {
      requireWhole({ lacking });
      return;
    }
    const worst = places.reduce((one, other) => (outdoes(other.height, one.height) ? other : one), first);
    const more = places.length > 1 ? ` (and ${sayCount(places.length - 1, 'more place')})` : '';
    const added =
      margin === undefined
        ? ''
        : `, ${sayNumber(margin.value.value)} m of which the house (waywarden.settings.yaml) adds`;
    yield {
      found: {
        at: worst.at,
        ...(margin === undefined ? {} : { level: 'caution' as const }),
        subject: `flight ${flight.number}`,
        message: `${worst.name} reaches ${sayNumber(worst.height, 2)} m above ground, and the terrain is exact to ${sayNumber(worst.error)} m${added}${more}; ${limit.said}`,
        measured: { value: worst.height, unit: 'm', frame: 'above ground' },
        limit: limit.measure,
        related: [
          ...(margin === undefined ? [] : [{ at: margin.span, message: 'the house set its margin here' }]),
          ...places
            .filter((place) => place !== worst)
            .map((place) => ({
              at: place.at,
              message: `${place.name} reaches ${sayNumber(place.height, 2)} m above ground`,
            })),
        ],
      },
    };
    requireWhole({ lacking });
  },
});

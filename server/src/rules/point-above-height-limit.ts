import type { FactTools } from '../facts/fact.ts';
import { itemFarFromGround } from '../facts/far-from-ground.ts';
import { itemAboveGround, itemHeight, ownHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import type { Item } from '../plan/model.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { CLEARANCE } from '../rulebook/height-band.ts';
import { worseBeside } from '../rulebook/height-blame.ts';
import { HEIGHT_SOURCES, heightLimit, sayFromNearest } from '../rulebook/height-limit.ts';
import { inSteps } from '../rulebook/in-steps.ts';
import { lowerPoint, moveWithLegs } from '../rulebook/mend-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { excessAt, isAllowedAt, sayStructuresOfItem } from '../rulebook/structure-exception.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayMetresAgainst } from '../units/say.ts';

/** Where the point is, as far as is known: a height written above ground is too high without any terrain. */
const placed = (item: Item, { ask }: FactTools): Pick<Complaint, 'place'> => {
  const at = orLacking(() => ask(itemPlace, item));
  const height = orLacking(() => ask(itemHeight, item).leaving.aboveSea);
  if ('missing' in at) return {};
  return { place: { at: at.known, ...('missing' in height ? {} : { altitudeAmslM: height.known }) } };
};

export default defineRule({
  visits: 'item',
  title: 'a point is higher above the ground than the limit',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Below the limit unmanned aircraft have the air mostly for themselves; above it begin the aeroplanes and helicopters, which cannot see something so small in time. The limit counts from the ground under the aircraft, not from where the pilot stands.',
  condition:
    'United States: not higher than 400 ft (121.92 m) above the ground. EU open category: not more than 120 m (393.7 ft) from the closest point of the surface, measured in three dimensions, so beside a cliff the ground straight below may be farther away. A height exactly at the limit is within it. The house may set less.',
  exceptions:
    'Part 107: within 400 ft (121.92 m) of a structure, up to 400 ft above its top. EU: within 50 m (164 ft) of an artificial obstacle taller than 105 m (344 ft), up to 15 m (49 ft) above its top, at the request of whoever answers for it (`obstacles: { requests: [...] }`). A structure is an obstacle of the plan or its files that is marked as one; distances count from the nearest part of its footprint, so a mast given as a point is judged from that point. Trees and hills are no structures; wires are no part of one. Recreation has no such exception, and a lower limit of the house has none. A lower height in an authorisation stays the limit there and is judged by `zone-entered-unauthorised`.',
  mend: 'Lower the point. Write heights above ground (AGL) where you can: a height above take-off changes its meaning when the ground falls away.',
  otherReading:
    'EU guidance prints "120 m (400 ft)"; 120 m is the law and is used. The 400 ft around a structure can be counted from its middle; this tool counts from the nearest point of its outline.',
  sources: HEIGHT_SOURCES,
  needs: ['terrain'],
  waivable: ['14 CFR 107.51(b)'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 130 m AGL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 110 m AGL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(item, tools) {
    const written = ownHeight(item);
    if (written === undefined) return;
    const { ask } = tools;
    const limit = heightLimit(tools);
    const height = ask(itemAboveGround, item);
    const measured = { value: height, unit: 'm', frame: 'above ground' } as const;
    if (!exceeds(height, limit.value)) {
      yield {
        margin: {
          subject: `${item.kind} ${item.id.value}`,
          at: written.span,
          measured,
          limit: limit.measure,
          room: limit.value - height,
        },
      };
      return;
    }
    const nearest =
      limit.from === 'nearest ground' ? itemFarFromGround(item, written, metres(limit.value), tools) : undefined;
    if (limit.from === 'nearest ground' && nearest === undefined) return;
    if (isAllowedAt(item, written, limit, tools)) return;
    const cause = elevationToBlame(item, written, tools);
    const worse = yield* inSteps(worseBeside(item, nearest?.distance ?? height, limit, tools));
    const how =
      nearest === undefined
        ? `${sayMetresAgainst(height, limit.value)} above ground`
        : sayFromNearest(nearest.distance, height, limit);
    yield {
      found: {
        at: written.span,
        subject: `${item.kind} ${item.id.value}`,
        message: `${item.id.value} is ${how}${worse?.said ?? ''}; ${limit.said}${sayStructuresOfItem(item, limit, tools)}`,
        ...(nearest === undefined
          ? { measured: { ...measured, value: worse?.value ?? height }, limit: limit.measure }
          : {
              measured: { value: worse?.value ?? nearest.distance, unit: 'm', frame: 'above surface' },
              limit: { ...limit.measure, frame: 'above surface' },
            }),
        ...(worse === undefined ? placed(item, tools) : { place: worse.place }),
        ...(limit.span === undefined ? {} : { related: [{ at: limit.span, message: 'the house set the limit here' }] }),
        ...(cause === undefined ? {} : { cause }),
        fixes:
          cause !== undefined
            ? []
            : worse === undefined
              ? lowerPoint(item, written, excessAt(item, written, height - limit.value, limit, tools), tools)
              : moveWithLegs(
                  item,
                  written,
                  -1,
                  worse.value - limit.value,
                  { least: CLEARANCE, most: limit.value },
                  tools,
                ),
      },
    };
  },
});

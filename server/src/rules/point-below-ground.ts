import type { FactTools } from '../facts/fact.ts';
import { itemAboveGround, ownHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { isBeyondItself, type StretchBeside, stretchesBeside } from '../facts/leg-beyond.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import type { Item } from '../plan/model.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import { CLEARANCE } from '../rulebook/height-band.ts';
import { moveWithLegs } from '../rulebook/mend-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { raiseBy } from '../rulebook/written-height.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { aboveGround, type MetresAboveGround } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

const GROUND = aboveGround(0);
/** What a mended leg has to keep. */
const OFF_GROUND = { least: CLEARANCE, most: aboveGround(Number.POSITIVE_INFINITY) };

/** The deepest place of the legs beside a point that is below ground, if it is deeper than the point. */
const deeperBeside = (item: Item, own: MetresAboveGround, tools: FactTools): StretchBeside | undefined => {
  const isBelow = (other: Item): boolean => isBeyondItself(other, GROUND, 'under', tools);
  const beside = orLacking(() => stretchesBeside(item, GROUND, 'under', tools, isBelow));
  if ('missing' in beside) return undefined;
  let deepest: StretchBeside | undefined;
  for (const one of beside.known) {
    const { furthest, furthestAlong } = one.stretch;
    const { length } = tools.ask(pathOfLeg, one.leg);
    // At its other end a leg has the height of the item there, which speaks for itself.
    const isInner = furthestAlong > 0.001 && furthestAlong < length - 0.001;
    if (isInner && exceeds(own, furthest) && (deepest === undefined || outdoes(deepest.stretch.furthest, furthest)))
      deepest = one;
  }
  return deepest;
};

export default defineRule({
  visits: 'item',
  title: 'a point lies on or below the ground',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'The aircraft would fly into the ground before it gets there. The usual cause is a height above the sea or above take-off where the ground is higher than at the take-off.',
  condition: 'The height of each point above the ground at its place is more than 0 m, by the terrain of the plan.',
  mend: 'Raise the point. A height above ground (AGL) can be read off without knowing the ground.',
  sources: [{ cite: 'the ground', edition: 'as the terrain file states', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 390 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 450 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(item, tools) {
    const written = ownHeight(item);
    if (written === undefined) return;
    const height = tools.ask(itemAboveGround, item);
    if (exceeds(height, aboveGround(0))) return;
    const cause = elevationToBlame(item, written, tools);
    const deeper = deeperBeside(item, height, tools);
    const leg = deeper?.leg;
    const beside =
      deeper === undefined || leg === undefined
        ? ''
        : `, and leg ${leg.from.id.value} to ${leg.to.id.value} is ${sayNumber(-deeper.stretch.furthest)} m below it ${sayDistance(deeper.stretch.furthestAlong)} along`;
    const worst = deeper?.stretch.furthest ?? height;
    const at =
      deeper === undefined || leg === undefined
        ? tools.ask(itemPlace, item)
        : tools.ask(pathOfLeg, leg).at(deeper.stretch.furthestAlong);
    const how = height < -0.05 ? `${sayNumber(-height)} m below the ground` : 'on the ground';
    yield {
      found: {
        at: written.span,
        subject: `${item.kind} ${item.id.value}`,
        message: `${item.id.value} is ${how}${beside}; the terrain of the plan sets that`,
        measured: { value: worst, unit: 'm', frame: 'above ground' },
        limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
        place: { at, ...(deeper === undefined ? {} : { alongM: deeper.stretch.furthestAlong }) },
        ...(cause === undefined ? {} : { cause }),
        // A pattern that is raised for one of its points may be too high at the others.
        fixes:
          cause !== undefined || item.partOf !== undefined
            ? []
            : deeper === undefined
              ? [raiseBy(item.id.value, written, CLEARANCE - height)]
              : moveWithLegs(item, written, 1, CLEARANCE - worst, OFF_GROUND, tools),
      },
    };
  },
});

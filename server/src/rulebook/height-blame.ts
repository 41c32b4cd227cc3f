import type { FactTools } from '../facts/fact.ts';
import { itemFarFromGround, legFarFromGround } from '../facts/far-from-ground.ts';
import { orLacking } from '../facts/lacking.ts';
import { isBeyondItself, stretchesBeside } from '../facts/leg-beyond.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import type { Item, Leg } from '../plan/model.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayDistance, sayMetresAgainst } from '../units/say.ts';
import { areaBeyondLimit } from './area-limit.ts';
import type { FindingPlace } from './finding.ts';
import type { HeightLimit } from './height-limit.ts';
import { isAllowedAt, legAllowance } from './structure-exception.ts';

/**
 * Whether an item's own height is over the limit: then the finding stands on it, and not on the legs beside it. Where the
 * nearest ground counts, only if it is too far from that, not only too high above the ground below.
 */
export const isTooHigh = (item: Item, limit: HeightLimit, tools: FactTools): boolean => {
  if (!isBeyondItself(item, limit.value, 'over', tools)) return false;
  if (item.kind === 'area') return tools.ask(areaBeyondLimit, item).now().kind !== 'within';
  const written = item.kind === 'take-off' ? item.climbTo : item.altitude;
  if (written === undefined || isAllowedAt(item, written, limit, tools)) return false;
  if (limit.from === 'ground below') return true;
  return itemFarFromGround(item, written, metres(limit.value), tools) !== undefined;
};

/** Where a leg beside an item that is too high gets worse than the item. */
export interface WorseBeside {
  readonly leg: Leg;
  /** Metres above ground, or from the nearest ground where that counts. */
  readonly value: number;
  readonly place: FindingPlace;
  /** ", and leg bank to far-bank reaches 160 m above ground 230 m along" */
  readonly said: string;
}

/**
 * The worst of the legs beside an item whose height is over the limit, if it is worse than the item's own. What is not
 * known of the legs is told by the rule about them.
 */
export function* worseBeside(
  item: Item,
  own: number,
  limit: HeightLimit,
  tools: FactTools,
): Generator<void, WorseBeside | undefined> {
  const beside = orLacking(() =>
    stretchesBeside(
      item,
      limit.value,
      'over',
      tools,
      (other) => isTooHigh(other, limit, tools),
      (leg) => legAllowance(leg, limit, tools).allowed,
    ),
  );
  let worst: WorseBeside | undefined;
  for (const { leg, stretch } of 'missing' in beside ? [] : beside.known) {
    const nearest = limit.from === 'nearest ground' ? yield* legFarOrNot(leg, stretch, limit, tools) : undefined;
    if (limit.from === 'nearest ground' && nearest === undefined) continue;
    const value = nearest?.distance ?? stretch.furthest;
    const along = nearest?.along ?? stretch.furthestAlong;
    const path = tools.ask(pathOfLeg, leg);
    // At its other end a leg has the height of the item there, which speaks for itself.
    if (along <= 0.001 || along >= path.length - 0.001) continue;
    if (!exceeds(metres(value), metres(own)) || (worst !== undefined && !outdoes(value, worst.value))) continue;
    const how =
      nearest === undefined
        ? `reaches ${sayMetresAgainst(value, limit.value)} above ground`
        : `gets ${sayMetresAgainst(value, limit.value)} from the nearest ground`;
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const place = { at: path.at(along), alongM: along };
    worst = { leg, value, place, said: `, and ${name} ${how} ${sayDistance(along)} along` };
  }
  return worst;
}

function* legFarOrNot(
  leg: Leg,
  stretch: { readonly from: number; readonly to: number },
  limit: HeightLimit,
  tools: FactTools,
): ReturnType<typeof legFarFromGround> {
  const work = legFarFromGround(leg, [stretch], metres(limit.value), tools);
  for (;;) {
    const step = orLacking(() => work.next());
    if ('missing' in step) return undefined;
    if (step.known.done === true) return step.known.value;
    yield;
  }
}

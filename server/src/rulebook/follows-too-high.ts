import type { FactTools } from '../facts/fact.ts';
import { followedFarFromGround } from '../facts/far-from-ground.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { freeOf, type Interval } from '../geo/interval.ts';
import { TOUCH } from '../geo/ring.ts';
import type { Leg } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayDistance, sayMetresAgainst } from '../units/say.ts';
import type { Judgement } from './finding.ts';
import type { HeightLimit } from './height-limit.ts';
import { inSteps } from './in-steps.ts';
import { legAllowance, requireStructures } from './structure-exception.ts';

/** What an allowance leaves of a leg that follows the terrain: of all of it or of nothing its height is over the limit. */
const leftOf = (allowed: readonly Interval[], length: number): readonly Interval[] => {
  const whole = { from: 0, to: length };
  return allowed.length === 0 ? [whole] : freeOf(allowed, whole).filter(({ from, to }) => to - from > TOUCH);
};

/**
 * Whether a leg that follows the terrain gets over the height limit. Where the nearest ground counts, that is proven or
 * disproven for all of it; what is neither is judged by the height above the ground below, and the message says so.
 */
export function* followsTooHigh(leg: Leg, limit: HeightLimit, tools: FactTools): Generator<Judgement, void> {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind !== 'follows') return;
  const most = tools.ask(legHeight, leg).greatest.value;
  if (!exceeds(most, limit.value)) return;
  const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const allowance = legAllowance(leg, limit, tools);
  const path = tools.ask(pathOfLeg, leg);
  const left = leftOf(allowance.allowed, path.length);
  if (left.length === 0) return;
  const isNearest = limit.from === 'nearest ground';
  const verdict = isNearest ? yield* inSteps(followedFarFromGround(leg, left, metres(limit.value), tools)) : undefined;
  if (verdict?.kind === 'within' || verdict?.kind === 'at-the-limit') return;
  requireStructures(allowance, (allowed) => leftOf(allowed, path.length).length > 0);
  const over = verdict?.kind === 'over' ? verdict : undefined;
  const how =
    over !== undefined
      ? `, and gets ${sayMetresAgainst(over.distance, limit.value)} from the nearest ground ${sayDistance(over.along)} along`
      : isNearest
        ? ', and is not proven to be nearer to ground in another direction'
        : '';
  yield {
    found: {
      at: craft.written.span,
      subject: name,
      message: `${name} follows the ground at up to ${sayMetresAgainst(most, limit.value)} above it${how}; ${limit.said}`,
      ...(over === undefined
        ? { measured: { value: most, unit: 'm', frame: 'above ground' }, limit: limit.measure }
        : {
            measured: { value: over.distance, unit: 'm', frame: 'above surface' },
            limit: { ...limit.measure, frame: 'above surface' },
            place: { at: over.at, alongM: over.along },
          }),
      fixes: [],
    },
  };
}

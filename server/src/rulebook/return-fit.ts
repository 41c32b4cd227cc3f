import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { legHeight } from '../facts/leg-height.ts';
import { legOverTop } from '../facts/obstacle-passes.ts';
import {
  groundStrikes,
  type HighestReturn,
  highestReturns,
  type ObstacleStrike,
  obstacleStrikes,
  type ReturnStrike,
  returnGroundStrikes,
  returnHeights,
  returnObstacleStrikes,
} from '../facts/return-strikes.ts';
import { type ReturnsOfFlight, returnsOf } from '../facts/returns.ts';
import type { Flight, LostLink } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround, metres } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import type { Fix } from './finding.ts';
import { CLEARANCE } from './height-band.ts';
import { heightLimit } from './height-limit.ts';
import { lowerBy, loweringOf, raiseBy, raisingOf } from './written-height.ts';

/** What the height to climb to is called in fixes. */
const NAME = 'the return';

const halfOfAircraft = ({ world }: FactTools): number =>
  isMissing(world.aircraft) ? 0 : (world.aircraft.size?.value ?? 0) / 2;

/** Ways home from a leg that is in the ground itself are that leg's fault. */
const isOwnGround = ({ returns: { leg } }: ReturnStrike, tools: FactTools): boolean => {
  if (leg === undefined) return false;
  const height = orLacking(() => tools.ask(legHeight, leg));
  return 'known' in height && !exceeds(height.known.least.value, aboveGround(0));
};

/** As are ways home from a leg that strikes the obstacle itself. */
const isOwnObstacle = ({ returns: { leg }, obstacle }: ObstacleStrike, tools: FactTools): boolean => {
  if (leg === undefined) return false;
  const over = orLacking(() => legOverTop(leg, obstacle, metres(halfOfAircraft(tools)), tools));
  return 'known' in over && over.known !== undefined && over.known.height <= 0;
};

/** Ways home of a flight that strike the ground by the fault of their height. */
export const groundStrikesOf = (flight: Flight, tools: FactTools): readonly ReturnStrike[] =>
  tools.ask(returnGroundStrikes, flight)?.strikes.filter((strike) => !isOwnGround(strike, tools)) ?? [];

export const obstacleStrikesOf = (flight: Flight, tools: FactTools): readonly ObstacleStrike[] =>
  tools.ask(returnObstacleStrikes, flight)?.strikes.filter((strike) => !isOwnObstacle(strike, tools)) ?? [];

const strikesAt = (returns: ReturnsOfFlight, raised: number, tools: FactTools): readonly ReturnStrike[] => [
  ...groundStrikes(returns, raised, tools).strikes.filter((strike) => !isOwnGround(strike, tools)),
  ...obstacleStrikes(returns, raised, tools).strikes.filter((strike) => !isOwnObstacle(strike, tools)),
];

/** A way home that is higher above the ground than the limit. Where the leg is too high itself, the leg is to blame. */
export const isTooHigh = (highest: HighestReturn, tools: FactTools): boolean => {
  const limit = heightLimit(tools);
  if (!exceeds(aboveGround(-highest.over), limit.value)) return false;
  const { leg } = highest.returns;
  if (highest.byClimb || leg === undefined) return true;
  const height = orLacking(() => tools.ask(legHeight, leg));
  return 'missing' in height || !exceeds(height.known.greatest.value, limit.value);
};

/** Metres by which the highest ways home that the climb makes so are over the limit; negative within it. */
const excessAt = (returns: ReturnsOfFlight, raised: number, tools: FactTools): number => {
  const limit = heightLimit(tools).value;
  const { highest } = highestReturns(returns, raised, tools);
  return highest.reduce(
    (most, one) => (one.byClimb ? Math.max(most, -one.over - limit) : most),
    Number.NEGATIVE_INFINITY,
  );
};

/** How the height to climb to could be: a change in metres, or that none is low enough and high enough at once. */
export type Fit =
  | { readonly kind: 'fits'; readonly raised: number }
  | { readonly kind: 'squeezed'; readonly raised: number; readonly strike: ReturnStrike }
  | { readonly kind: 'unknown' };

/** Rounds of looking for the greatest height that the limit allows. */
const ROUNDS = 4;

/** The greatest change of the height at which no way home is over the limit. */
const mostRaised = (returns: ReturnsOfFlight, tools: FactTools): number | undefined => {
  let raised = 0;
  for (let i = 0; i < ROUNDS; i++) {
    const excess = excessAt(returns, raised, tools);
    // Nothing climbs: the height is below that of the whole route, and may rise at least to where it matters.
    if (!Number.isFinite(excess)) {
      raised += heightLimit(tools).value;
      continue;
    }
    if (Math.abs(excess) <= 0.001) return raised;
    raised -= excess;
  }
  return excessAt(returns, raised, tools) <= 0.001 ? raised : undefined;
};

/** Whether any height to climb to passes over everything and stays within the limit. */
export const fitOf = (flight: Flight, tools: FactTools): Fit => {
  const returns = tools.ask(returnsOf, flight);
  const climbTo = returns?.way.climbTo;
  if (returns === undefined || climbTo === undefined) return { kind: 'unknown' };
  const most = orLacking(() => mostRaised(returns, tools));
  if ('missing' in most || most.known === undefined) return { kind: 'unknown' };
  const room = most.known;
  const highestAllowed = room < 0 ? -loweringOf(climbTo, -room) : raisingOf(climbTo, room) > room ? room : room;
  const atMost = strikesAt(returns, highestAllowed, tools);
  const [strike] = atMost;
  if (strike !== undefined) {
    // Where the nearest ground counts, a slope beside the way may allow more than the ground below does.
    return heightLimit(tools).from === 'nearest ground'
      ? { kind: 'unknown' }
      : { kind: 'squeezed', raised: highestAllowed, strike };
  }
  const now = strikesAt(returns, 0, tools);
  if (now.length === 0) return { kind: 'fits', raised: Math.min(0, room) };
  let raised = 0;
  for (let i = 0, strikes = now; i < ROUNDS && strikes.length > 0; i++) {
    raised += Math.max(...strikes.map(({ over }) => over)) + (i === 0 ? CLEARANCE : 1);
    strikes = strikesAt(returns, raised, tools);
  }
  return { kind: 'fits', raised: Math.min(raised, room) };
};

/** The fix that gives the height a number that fits, in the pilot's own words; none where none is known to. */
export const fixesOf = (fit: Fit, lostLink: LostLink | undefined): readonly Fix[] => {
  const climbTo = lostLink?.climbTo;
  if (fit.kind !== 'fits' || climbTo === undefined || fit.raised === 0) return [];
  return [fit.raised > 0 ? raiseBy(NAME, climbTo, fit.raised) : lowerBy(NAME, climbTo, -fit.raised)];
};

/** Ways home over the height limit. */
export const tooHighOf = (flight: Flight, tools: FactTools): readonly HighestReturn[] =>
  tools.ask(returnHeights, flight)?.highest.filter((one) => isTooHigh(one, tools)) ?? [];

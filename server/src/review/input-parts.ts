import type { Plan } from '../plan/model.ts';
import type { Settings } from '../plan/settings.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import type { Instant } from '../units/frames.ts';
import type { World } from '../world/world.ts';
import { alike } from './alike.ts';

/** What a review is worked out from. */
export interface Known {
  readonly plan: Plan;
  readonly world: World;
  readonly settings: Settings;
  readonly ruleSet: RuleSetId | undefined;
  readonly now: Instant;
}

/** A set of input parts, one bit each. */
export type Parts = number;

export const NOTHING: Parts = 0;

const bit = (n: number): Parts => 1 << n;

/** Keys of the plan that have a bit of their own; all others share the first. */
const PLAN_BITS: ReadonlyMap<string, Parts> = new Map(
  [
    ['window', 'flown'],
    ['aircraft'],
    ['category'],
    ['site'],
    ['crew'],
    ['terrain', 'geoid'],
    ['airspace', 'runways'],
    ['obstacles'],
    ['people'],
    ['weather'],
    ['preflight', 'restrictions'],
    ['authorisations'],
    ['accepts'],
    ['lostLink'],
    ['unread'],
    ['slips'],
  ].flatMap((keys, n) => keys.map((key): [string, Parts] => [key, bit(n + 1)])),
);
const REST_OF_PLAN = bit(0);

const WORLD_BITS: ReadonlyMap<string, Parts> = new Map(
  [
    ['terrain', 'surface', 'geoid'],
    ['airspace'],
    ['obstacles', 'obstaclesIncomplete'],
    ['people'],
    ['runways'],
    ['aircraft'],
    ['reports'],
  ].flatMap((keys, n) => keys.map((key): [string, Parts] => [key, bit(n + 17)])),
);
const REST_OF_WORLD = bit(24);
export const SETTINGS: Parts = bit(25);
export const RULE_SET: Parts = bit(26);
export const NOW: Parts = bit(27);

/** The route changes with every edit: what looks at it whole has to be worked out each time. */
export const isRoute = (key: string): boolean => key === 'items' || key === 'flights';

export const planPart = (key: string): Parts => PLAN_BITS.get(key) ?? REST_OF_PLAN;
export const worldPart = (key: string): Parts => WORLD_BITS.get(key) ?? REST_OF_WORLD;

const changedIn = (one: object, other: object, partOf: (key: string) => Parts): Parts => {
  if (one === other) return NOTHING;
  let changed = NOTHING;
  for (const key of new Set([...Object.keys(one), ...Object.keys(other)])) {
    if (isRoute(key) || (changed & partOf(key)) !== 0) continue;
    if (!alike(Reflect.get(one, key), Reflect.get(other, key))) changed |= partOf(key);
  }
  return changed;
};

/** The parts, the route aside, in which two inputs differ. */
export const changedParts = (before: Known, after: Known): Parts =>
  changedIn(before.plan, after.plan, planPart) |
  changedIn(before.world, after.world, worldPart) |
  (alike(before.settings, after.settings) ? NOTHING : SETTINGS) |
  (before.ruleSet === after.ruleSet ? NOTHING : RULE_SET) |
  (before.now === after.now ? NOTHING : NOW);

import type { Plan } from '../plan/model.ts';
import type { Settings } from '../plan/settings.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import type { Instant } from '../units/frames.ts';
import { isMissing, type Missing, type World } from '../world/world.ts';

/**
 * A fact is something worked out once per subject (plan, flight, leg, item) and shared by every rule that asks.
 * It answers, or throws `NotAssessed`; it never returns a guess.
 */
export interface Fact<Of extends object, T> {
  readonly name: string;
  derive(of: Of, tools: FactTools): T;
}

export type Ask = <Of extends object, T>(fact: Fact<Of, T>, of: Of) => T;

/** What a fact may look at. All of it is frozen during a review. */
export interface FactTools {
  readonly ask: Ask;
  readonly plan: Plan;
  readonly world: World;
  readonly settings: Settings;
  /** The rule set the plan is judged by; undefined while the plan does not tell. */
  readonly ruleSet: RuleSetId | undefined;
  /** The time of checking. */
  readonly now: Instant;
}

export const defineFact = <Of extends object, T>(fact: Fact<Of, T>): Fact<Of, T> => fact;

/** Thrown by a fact that lacks data. The review records a gap for the rule and place that asked. */
export class NotAssessed extends Error {
  override readonly name = 'NotAssessed';
  readonly due: Instant | undefined;

  constructor(reason: string, due?: Instant) {
    super(reason);
    this.due = due;
  }
}

/** The part of the world itself, or `NotAssessed` with the reason why it is missing. */
export const present = <T>(part: T | Missing): T => {
  if (isMissing(part)) throw new NotAssessed(part.missing, part.due);
  return part;
};

/** A value of the plan, or `NotAssessed`: "the position of ridge is missing or could not be read". */
export const given = <T>(value: T | undefined, what: string): T => {
  if (value === undefined) throw new NotAssessed(`${what} is missing or could not be read`);
  return value;
};

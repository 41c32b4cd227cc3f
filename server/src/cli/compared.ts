import type { Change } from '../plan/changes.ts';
import { type ComparedFinding, REACH_GATE } from '../review/compare.ts';
import type { SettingsChange } from '../review/compare-settings.ts';
import type { Review } from '../review/outcome.ts';
import { atLeast, type Level } from '../rulebook/finding.ts';
import type { RuleTools } from '../rulebook/rule.ts';
import type { Lines } from '../text/lines.ts';
import type { Instant } from '../units/frames.ts';

/** One side of a comparison. */
export interface Side {
  readonly path: string;
  readonly text: string;
  readonly review: Review;
  readonly lines: ReadonlyMap<string, Lines>;
  /** What the review was made with, for maps. */
  readonly tools?: RuleTools;
}

/** A plan on both sides of a change, or on one. */
export interface ComparedPlan {
  readonly before?: Side;
  readonly after?: Side;
  readonly changes: readonly Change[];
  readonly findings: readonly ComparedFinding[];
  readonly settings: readonly SettingsChange[];
}

export interface Comparison {
  readonly version: string;
  readonly now: Instant;
  readonly gate: Level;
  /** The names as they were given, and the commits compared; the head may be the working tree. */
  readonly base: string;
  readonly head: string;
  /** Plans that differ in anything, by path. */
  readonly plans: readonly ComparedPlan[];
  /** How many plans were looked at. */
  readonly looked: number;
  /** Plans that could not be read. */
  readonly unopened: readonly { readonly path: string; readonly reason: string }[];
}

export const pathOf = ({ before, after }: ComparedPlan): string => after?.path ?? before?.path ?? '';

/** Findings that the reviewer has to see: all but those that stayed as they were. */
export const told = ({ findings }: ComparedPlan): readonly ComparedFinding[] =>
  findings.filter(({ fate }) => fate !== 'unchanged');

const LOOSER: ReadonlySet<string> = new Set(['limit loosened', 'rule switched off']);

/** Whether a plan's change has to be looked at before it goes on. A plan that was flown is history. */
export const reachesGate = (plan: ComparedPlan, gate: Level): boolean => {
  if (plan.after?.review.past === true) return false;
  return (
    plan.settings.some(({ kind }) => LOOSER.has(kind)) ||
    plan.findings.some(({ fate, level }) => REACH_GATE.has(fate) && atLeast(level, gate))
  );
};

/** Whether a rule failed, which is our fault: such a comparison is not complete. */
const isFaulty = ({ after }: ComparedPlan): boolean => after?.review.gaps.some(({ kind }) => kind === 'fault') === true;

/** 0: nothing that reaches the gate. 1: something does. 2: the comparison is not complete. */
export const exitOf = (comparison: Comparison): 0 | 1 | 2 => {
  if (comparison.unopened.length > 0 || comparison.plans.some(isFaulty)) return 2;
  return comparison.plans.some((plan) => reachesGate(plan, comparison.gate)) ? 1 : 0;
};

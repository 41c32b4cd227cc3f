import type { Acceptance, Plan } from '../plan/model.ts';
import type { Settings } from '../plan/settings.ts';
import type { Finding, Gap, Lift, MarginHere } from '../rulebook/finding.ts';
import type { Owed } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import type { Instant } from '../units/frames.ts';
import type { Provenance } from '../world/world.ts';

/** All that a review found, kept, and could not judge. */
export interface Review {
  readonly plan: Plan;
  readonly settings: Settings;
  readonly ruleSet: RuleSetId | undefined;
  /** The time the plan was judged at: now, or the day it was flown. */
  readonly now: Instant;
  /** The plan says that it was flown, on a day that has come: it is history, and stays outside the gate. */
  readonly past: boolean;
  /** Worst first, then in the order of the text. */
  readonly findings: readonly Finding[];
  readonly accepted: readonly AcceptedFinding[];
  readonly lifted: readonly LiftedFinding[];
  readonly gaps: readonly Gap[];
  /** The tightest place of each rule with a number; the one with the smallest share of its limit left comes first. */
  readonly margins: readonly Margin[];
  readonly matrix: readonly MatrixRow[];
  /** How many rules were judged: the ones neither out of the rule set nor switched off. */
  readonly checks: number;
  /** False where anything was not assessed. */
  readonly complete: boolean;
  readonly data: readonly Provenance[];
  /** What is to be asked for while the findings stand, the earliest date first. Nothing for a flight that took place. */
  readonly owed: readonly Owed[];
}

export interface AcceptedFinding {
  readonly finding: Finding;
  readonly by: Acceptance;
}

export interface LiftedFinding {
  readonly finding: Finding;
  readonly by: Lift;
}

export interface Margin extends MarginHere {
  readonly rule: string;
}

/** A rule's state is the worst over its places, in this order. */
export const MATRIX_STATES = [
  'found',
  'not-assessed',
  'accepted',
  'lifted',
  'declared',
  'met',
  'does-not-apply',
  'switched-off',
  'out-of-reach',
] as const;
export type MatrixState = (typeof MATRIX_STATES)[number];

export interface MatrixRow {
  readonly rule: string;
  readonly state: MatrixState;
  readonly because: string;
}

export type { Finding, Gap };

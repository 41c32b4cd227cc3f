import type { Review } from '../review/outcome.ts';
import type { StressResult } from '../review/stress.ts';
import type { Finding, Gap, Level } from '../rulebook/finding.ts';
import { atLeast } from '../rulebook/finding.ts';
import type { RuleTools } from '../rulebook/rule.ts';
import type { Lines } from '../text/lines.ts';
import type { Span } from '../text/span.ts';
import { endOf, startOf } from '../text/span.ts';
import type { Instant } from '../units/frames.ts';
import type { DrawnPlan } from './formats/geojson.ts';

/** A plan that could be opened, and its review. */
export interface Checked {
  /** As shown: relative to the working folder. */
  readonly path: string;
  readonly review: Review;
  /** Line indices of the plan and the documents it refers to, by document. */
  readonly lines: ReadonlyMap<string, Lines>;
  /** What breaks first as the day turns out worse; with `--stress` only. */
  readonly stress?: readonly StressResult[];
  /** What the review was made with, for maps. It holds the whole world of the plan: kept for a plan or two only. */
  readonly tools?: RuleTools;
  /** What a map shows of the plan, drawn when it was judged; absent where no map is wanted. */
  readonly drawn?: DrawnPlan;
}

/** A path that could not be opened, and why. */
export interface Unopened {
  readonly path: string;
  readonly reason: string;
}

export interface Run {
  readonly version: string;
  readonly now: Instant;
  readonly gate: Level;
  readonly allDue: boolean;
  readonly checked: readonly Checked[];
  readonly unopened: readonly Unopened[];
  /** Top of the checkout as a hosting platform counts paths, an absolute folder; absent outside of one. */
  readonly top?: string;
  readonly baseline?: BaselineHere;
  /** How many plans were not looked at, since nothing that they read has changed; with `--changed-since` only. */
  readonly unaffected?: number;
}

/** What was there before, as `--baseline` tells. It keeps findings out of the gate and changes nothing else. */
export interface BaselineHere {
  readonly file: string;
  readonly entries: number;
  readonly covers: (checked: Checked, one: Finding | Gap) => boolean;
  /** Entries that are found no more: they can be taken out. */
  readonly stale: readonly { readonly plan: string; readonly rule: string; readonly subject: string }[];
  /** Entries of which this run cannot tell: their plan was not looked at, or their rule not assessed there. */
  readonly unknown: number;
}

export interface Range {
  readonly start: { readonly line: number; readonly column: number };
  readonly end: { readonly line: number; readonly column: number };
}

const NOWHERE: Range = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };

/** Lines and columns counted from 1, columns in UTF-16 code units. */
export const rangeOf = (span: Span, lines: ReadonlyMap<string, Lines>): Range => {
  const index = lines.get(span.anchor.document);
  if (index === undefined) return NOWHERE;
  const start = index.at(startOf(span));
  const end = index.at(endOf(span));
  return {
    start: { line: start.line + 1, column: start.column + 1 },
    end: { line: end.line + 1, column: end.column + 1 },
  };
};

/** Whether a gap counts today: one that is not yet due does so only on the morning (`--all-due`). */
export const counts = (gap: Gap, allDue: boolean): boolean => gap.kind !== 'not-yet' || allDue;

/** What a plan brings to the gate. A plan that was flown is history: it is reported, and stays outside the gate. */
const reachesGate = (checked: Checked, run: Run): boolean => {
  const { review } = checked;
  if (review.past) return false;
  const isNew = (one: Finding | Gap): boolean => run.baseline?.covers(checked, one) !== true;
  return (
    review.findings.some((finding) => atLeast(finding.level, run.gate) && isNew(finding)) ||
    review.gaps.some((gap) => counts(gap, run.allDue) && atLeast(gap.level, run.gate) && isNew(gap))
  );
};

/**
 * 0: nothing at or above the gate. 1: something is. 2: a path could not be opened, or a rule failed, which is our
 * fault. 2 beats 1 beats 0.
 */
export const exitCode = (run: Run): 0 | 1 | 2 => {
  const faulty = run.checked.some(({ review }) => review.gaps.some((gap) => gap.kind === 'fault'));
  if (run.unopened.length > 0 || faulty) return 2;
  return run.checked.some((checked) => reachesGate(checked, run)) ? 1 : 0;
};

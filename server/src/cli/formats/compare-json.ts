import type { ComparedFinding } from '../../review/compare.ts';
import type { Finding } from '../../rulebook/finding.ts';
import { sayRfc3339 } from '../../units/calendar.ts';
import { type ComparedPlan, type Comparison, reachesGate, type Side } from '../compared.ts';
import { matters, sayChange } from './say-change.ts';

const round = (value: number): number => Number(value.toFixed(6));

const findingOf = (finding: Finding) => ({
  message: finding.message,
  level: finding.level,
  fingerprint: finding.fingerprint,
  ...(finding.measured === undefined
    ? {}
    : { measured: { ...finding.measured, value: round(finding.measured.value) } }),
  ...(finding.limit === undefined ? {} : { limit: { ...finding.limit, value: round(finding.limit.value) } }),
});

const compared = ({ fate, rule, level, subject, before, after, because }: ComparedFinding) => ({
  fate,
  rule,
  level,
  subject,
  before: before === undefined ? null : findingOf(before),
  after: after === undefined ? null : findingOf(after),
  ...(because === undefined ? {} : { because }),
});

const sideOf = (side: Side | undefined) =>
  side === undefined
    ? null
    : {
        path: side.path,
        title: side.review.plan.title?.value ?? null,
        ruleSet: side.review.ruleSet ?? null,
        gaps: side.review.gaps.length,
      };

const planOf = (plan: ComparedPlan, gate: Comparison['gate']) => ({
  before: sideOf(plan.before),
  after: sideOf(plan.after),
  reachesGate: reachesGate(plan, gate),
  settings: plan.settings,
  findings: plan.findings.map(compared),
  changes: plan.changes.map((change) => ({ ...change, text: sayChange(change), matters: matters(change) })),
});

/** The comparison for machines; its shape is schemas/compare.schema.json. */
export const compareReport = (comparison: Comparison) => ({
  format: 1,
  waywarden: comparison.version,
  now: sayRfc3339(comparison.now),
  base: comparison.base,
  head: comparison.head,
  gate: comparison.gate,
  looked: comparison.looked,
  plans: comparison.plans.map((plan) => planOf(plan, comparison.gate)),
  unopened: comparison.unopened,
});

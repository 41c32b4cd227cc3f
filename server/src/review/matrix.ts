import type { Plan, PreflightStatement } from '../plan/model.ts';
import { OUT_OF_REACH } from '../rulebook/out-of-reach.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { sayCount } from '../units/say.ts';
import type { Provenance } from '../world/world.ts';
import type { Verdicts } from './judge.ts';
import type { MatrixRow } from './outcome.ts';
import { restsOn } from './rests-on.ts';

/** The preflight statement of the crew that answers a rule's question, with the one who made it. */
const declaredBy = (verdicts: Verdicts, plan: Plan): PreflightStatement | undefined => {
  if (verdicts.rule.declarable !== true) return undefined;
  return plan.preflight.find(
    (statement) =>
      statement.by !== undefined &&
      statement.seen !== undefined &&
      statement.covers.some((rule) => rule.value === verdicts.rule.id),
  );
};

/** The state of a rule: the worst over its places, and what it rests on, the data with their edition and age. */
export const rowOf = (verdicts: Verdicts, plan: Plan, data: readonly Provenance[], has: Outcomes): MatrixRow => {
  const row = stateOf(verdicts, plan, has);
  // What was not assessed rests on nothing, and what was declared rests on the one who said it.
  if (row.state === 'not-assessed' || row.state === 'declared') return row;
  return { ...row, because: `${row.because}${restsOn(verdicts.rule, plan, data)}` };
};

interface Outcomes {
  readonly found: boolean;
  readonly accepted: boolean;
  readonly lifted: boolean;
}

const stateOf = (verdicts: Verdicts, plan: Plan, has: Outcomes): MatrixRow => {
  const rule = verdicts.rule.id;
  if (has.found) {
    const most = verdicts.complaints[0]?.message ?? 'see the findings';
    const n = verdicts.complaints.length;
    return { rule, state: 'found', because: n > 1 ? `${most} (${sayCount(n, 'place')})` : most };
  }
  const fault = verdicts.gaps.find((gap) => gap.kind === 'fault');
  const gap = fault ?? verdicts.gaps[0];
  if (gap !== undefined) {
    const statement = fault === undefined ? declaredBy(verdicts, plan) : undefined;
    if (statement === undefined) return { rule, state: 'not-assessed', because: gap.reason };
    return { rule, state: 'declared', because: `stated by ${statement.by?.value ?? ''} in preflight` };
  }
  if (has.accepted) return { rule, state: 'accepted', because: 'accepted in the plan, with a reason' };
  const lift = verdicts.complaints.find((complaint) => complaint.liftedBy !== undefined)?.liftedBy;
  if (has.lifted) return { rule, state: 'lifted', because: `by ${lift?.kind ?? ''} ${lift?.name ?? ''}`.trim() };
  const declared = verdicts.declared[0];
  if (declared !== undefined) return { rule, state: 'declared', because: declared.because };
  if (verdicts.seen === 0) return { rule, state: 'met', because: 'the plan holds nothing it could apply to' };
  const { margin } = verdicts;
  if (margin === undefined) return { rule, state: 'met', because: `looked at ${sayCount(verdicts.seen, 'place')}` };
  return { rule, state: 'met', because: `tightest at ${margin.subject}` };
};

/** A row for all that the law asks for and no plan can show, so that silence about it is no answer. */
export const rowsOutOfReach = (ruleSet: RuleSetId | undefined): readonly MatrixRow[] =>
  OUT_OF_REACH.map((each): MatrixRow => {
    const belongs = ruleSet === undefined || each.for.includes(ruleSet);
    return belongs
      ? { rule: each.name, state: 'out-of-reach', because: `${each.cite}: ${each.asks}; ${each.why}` }
      : { rule: each.name, state: 'does-not-apply', because: `it does not belong to ${ruleSet}` };
  });

import type { Plan } from '../plan/model.ts';
import type { Settings } from '../plan/settings.ts';
import { selectRuleSet } from '../rulebook/countries.ts';
import { dayOf } from '../rulebook/day-of.ts';
import { byLevel, type Finding, type Gap } from '../rulebook/finding.ts';
import { levelUnder, namesOf, type Rule } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { RULES } from '../rules/index.generated.ts';
import { startOf } from '../text/span.ts';
import { endOfDay, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import type { World } from '../world/world.ts';
import { applyAcceptances } from './accept.ts';
import { fatesOf } from './fates.ts';
import { findingsOf, joinGaps } from './group.ts';
import { judge, judgeEach, type Ruled, type Verdicts } from './judge.ts';
import { rowOf, rowsOutOfReach } from './matrix.ts';
import { Memory } from './memory.ts';
import type { LiftedFinding, Margin, MatrixRow, Review } from './outcome.ts';
import { owedOf } from './owed.ts';

export interface ReviewInput {
  readonly plan: Plan;
  readonly world: World;
  readonly settings: Settings;
  /** The time of checking. */
  readonly now: Instant;
  /** The rules to judge by; all of them unless a test says otherwise. */
  readonly rules?: readonly Rule[];
}

/**
 * When the flight that a plan says took place began; undefined where it says nothing, or names a day that is still to
 * come: a plan does not get out of the gate by being dated ahead.
 */
const flownAt = (plan: Plan, now: Instant): Instant | undefined => {
  if (plan.flown === undefined) return undefined;
  const offset = plan.window?.from?.value.offsetMinutes ?? 0;
  const [start, end] = [startOfDay(plan.flown.value, offset), endOfDay(plan.flown.value, offset)];
  const from = plan.window?.from?.value.at;
  const began = from !== undefined && from >= start && from < end ? from : start;
  return began <= now ? began : undefined;
};

const byPlace = (one: { readonly at: Finding['at'] }, other: { readonly at: Finding['at'] }): number => {
  const [a, b] = [one.at.anchor.document, other.at.anchor.document];
  if (a !== b) return a < b ? -1 : 1;
  return startOf(one.at) - startOf(other.at);
};

const byName = (one: { readonly rule: string }, other: { readonly rule: string }): number =>
  one.rule < other.rule ? -1 : one.rule > other.rule ? 1 : 0;

const inOrder = <T extends Finding | Gap>(list: T[]): T[] =>
  list.sort((one, other) => byLevel(one.level, other.level) || byPlace(one, other) || byName(one, other));

/** Metres, days and metres per second do not compare; how much of the limit is left does. */
const tightness = ({ room, limit, measured }: Margin): number =>
  room / Math.max(Math.abs(limit.value), Math.abs(measured.value), 1e-9);

const tightest = (verdicts: readonly Verdicts[]): Margin[] =>
  verdicts
    .flatMap(({ rule, margin }) => (margin === undefined ? [] : [{ ...margin, rule: rule.id }]))
    .sort((one, other) => tightness(one) - tightness(other) || byName(one, other));

/** Why a rule says nothing about a flight of another day than its own; undefined where it is in force. */
const notInForce = (rule: Rule, ruleSet: RuleSetId | undefined, plan: Plan): MatrixRow | undefined => {
  const { since, until } = (ruleSet === undefined ? undefined : rule.inForce?.[ruleSet]) ?? {};
  const day = dayOf(plan);
  if (day === undefined) return undefined;
  const early = since !== undefined && day < since;
  const late = until !== undefined && day > until;
  if (!early && !late) return undefined;
  const when = early ? `since ${since} only` : `until ${until} only`;
  return { rule: rule.id, state: 'out-of-reach', because: `in force ${when}; what held on ${day} is not judged` };
};

/** Why a rule is not judged at all; undefined when it is. */
const setAside = (rule: Rule, ruleSet: RuleSetId | undefined, settings: Settings): MatrixRow | undefined => {
  if (ruleSet !== undefined && levelUnder(rule, ruleSet) === undefined) {
    return { rule: rule.id, state: 'does-not-apply', because: `it does not belong to ${ruleSet}` };
  }
  const off = settings.off.find((entry) => entry.rule.value === rule.id && entry.because !== undefined);
  if (off === undefined || rule.basis !== 'practice') return undefined;
  return { rule: rule.id, state: 'switched-off', because: `the house: ${off.because?.value ?? ''}` };
};

/** A rule of law waits for the rule set; the gap is said once, by the rule about the country or the purpose. */
const waitsForRuleSet = (rule: Rule, ruleSet: RuleSetId | undefined): boolean =>
  ruleSet === undefined && typeof rule.level !== 'string';

/**
 * Judges a plan. Pure and total: the same input gives the same review, and no input makes it throw. Yields after each
 * rule and subject, so that a caller can stop, or let others run, between. With the memory of the last review of the
 * same document, by the same rules, what an edit did not touch is not judged again; the result is that of a new review.
 */
export function* reviewSteps(input: ReviewInput, memory = new Memory()): Generator<void, Review> {
  const { plan, world, settings } = input;
  const rules = input.rules ?? RULES;
  const country = plan.country?.value ?? settings.country?.value;
  const selection = selectRuleSet(country, plan.purpose?.value, plan.category?.value);
  const ruleSet = selection.ruleSet;
  const flown = flownAt(plan, input.now);
  const now = flown ?? input.now;
  const tools = memory.begin({ plan, world, settings, ruleSet, now }, namesOf(rules));

  const aside: MatrixRow[] = [];
  const ruled: Ruled[] = [];
  const last: Rule[] = [];
  for (const rule of rules) {
    const row = setAside(rule, ruleSet, settings) ?? notInForce(rule, ruleSet, plan);
    if (row !== undefined) aside.push(row);
    else if (waitsForRuleSet(rule, ruleSet)) {
      aside.push({ rule: rule.id, state: 'not-assessed', because: selection.because ?? 'the rule set is not known' });
    } else if (rule.visits === 'acceptance' || rule.visits === 'lift' || rule.visits === 'owed') last.push(rule);
    else ruled.push({ rule, level: levelUnder(rule, ruleSet) ?? 'stop' });
  }
  const about = (kind: Rule['visits']): readonly Ruled[] => ruled.filter(({ rule }) => rule.visits === kind);
  const ofItems = yield* judgeEach('item', about('item'), memory, tools);
  const ofLegs = yield* judgeEach('leg', about('leg'), memory, tools);
  const judged: Verdicts[] = [];
  for (const { rule, level } of ruled) {
    judged.push(ofItems.get(rule) ?? ofLegs.get(rule) ?? (yield* judge(rule, level, tools)));
  }

  const byId = new Map(rules.map((rule) => [rule.id, rule]));
  const complaints = judged.flatMap((verdicts) => findingsOf(verdicts, ruleSet));
  const lifted: LiftedFinding[] = [];
  const open: Finding[] = [];
  for (const finding of complaints) {
    if (finding.liftedBy === undefined) open.push(finding);
    else lifted.push({ finding, by: finding.liftedBy });
  }
  const { standing, accepted, used } = applyAcceptances(open, plan, byId, now);
  const owed = flown === undefined ? owedOf(standing, byId, { plan, settings, ruleSet, now }) : [];
  const outcomes = {
    owed,
    acceptances: fatesOf({ plan, rules: byId, judged, used, standing, now }),
    lifts: [...new Map(lifted.map(({ by }) => [startOf(by.span), by])).values()],
  };
  for (const rule of last) {
    const verdicts = yield* judge(rule, levelUnder(rule, ruleSet) ?? 'caution', tools, outcomes);
    judged.push(verdicts);
    standing.push(...findingsOf(verdicts, ruleSet));
  }

  const gaps: Gap[] = [];
  // Some of the rules alone are no law, and what lies beyond all of them is then not told.
  const matrix: MatrixRow[] = [...aside, ...(rules.length === RULES.length ? rowsOutOfReach(ruleSet) : [])];
  for (const verdicts of judged) {
    const row = rowOf(verdicts, plan, world.data, {
      found: standing.some((finding) => finding.rule === verdicts.rule.id),
      accepted: accepted.some(({ finding }) => finding.rule === verdicts.rule.id),
      lifted: lifted.some(({ finding }) => finding.rule === verdicts.rule.id),
    });
    matrix.push(row);
    if (row.state !== 'declared') gaps.push(...joinGaps(verdicts.gaps));
  }
  matrix.sort(byName);
  const inForce = matrix.filter(
    ({ state }) => state !== 'does-not-apply' && state !== 'switched-off' && state !== 'out-of-reach',
  );
  return {
    plan,
    settings,
    ruleSet,
    now,
    past: flown !== undefined,
    findings: inOrder(standing),
    accepted,
    lifted,
    gaps: inOrder(gaps),
    margins: tightest(judged),
    matrix,
    checks: inForce.length,
    complete: !matrix.some(({ state }) => state === 'not-assessed') && gaps.length === 0,
    data: world.data,
    owed,
  };
}

/** `reviewSteps` drained at once. */
export const review = (input: ReviewInput): Review => {
  const steps = reviewSteps(input);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
};

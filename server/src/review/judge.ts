import { NotAssessed } from '../facts/fact.ts';
import { flownAs, flownLegs } from '../facts/flown-legs.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import type { Item, Plan } from '../plan/model.ts';
import type { Complaint, DeclaredHere, Gap, Judgement, Level, Lift, MarginHere } from '../rulebook/finding.ts';
import { liftByWaivers } from '../rulebook/lift-by-waivers.ts';
import type { AcceptanceOutcome, Owed, Rule, RuleTools } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { outdoes } from '../units/exceeds.ts';
import { isMissing } from '../world/world.ts';
import type { Memory } from './memory.ts';
import { blamePattern, gapInPattern, patternOf } from './of-pattern.ts';

/** What one rule said over all its subjects, before grouping. */
export interface Verdicts {
  readonly rule: Rule;
  readonly level: Level;
  readonly complaints: Complaint[];
  /** The place with the least room. */
  margin?: MarginHere;
  readonly declared: DeclaredHere[];
  readonly gaps: Gap[];
  /** How many subjects it looked at. */
  seen: number;
}

export const noVerdicts = (rule: Rule, level: Level): Verdicts => ({
  rule,
  level,
  complaints: [],
  declared: [],
  gaps: [],
  seen: 0,
});

/** A subject and where a gap about it would stand. */
interface Visit {
  readonly subject: object;
  readonly name: string;
  readonly at: Span;
}

const aircraftOf = (tools: RuleTools): Aircraft | undefined =>
  isMissing(tools.world.aircraft) ? undefined : tools.world.aircraft;

/** The legs that are flown. */
const legsOf = (plan: Plan, tools: RuleTools): readonly Visit[] =>
  plan.flights.flatMap((flight) =>
    tools.ask(flownLegs, flight).map((leg) => ({
      subject: leg,
      name: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
      at: leg.to.id.span,
    })),
  );

const visitOf = (item: Item): Visit => ({ subject: item, name: `${item.kind} ${item.id.value}`, at: item.id.span });

/** The items of the text, each pattern followed by its points. */
const itemsOf = (plan: Plan, tools: RuleTools): readonly Visit[] =>
  plan.items.flatMap((item) => [
    visitOf(item),
    ...flownAs(item, tools).flatMap((point) => (point === item ? [] : [visitOf(point)])),
  ]);

/** What is known only when all other rules have been judged. */
export interface Outcomes {
  readonly acceptances: readonly AcceptanceOutcome[];
  /** The papers that lifted something, each once. */
  readonly lifts: readonly Lift[];
  readonly owed: readonly Owed[];
}

const NOTHING_YET: Outcomes = { acceptances: [], lifts: [], owed: [] };

/** The subjects of a rule that looks at neither legs nor items; acceptances are handed in, since their fate is known only at the end. */
function* visits(rule: Rule, plan: Plan, tools: RuleTools, outcomes: Outcomes): Iterable<Visit> {
  const wholePlan = { name: 'the plan', at: plan.titleSpan };
  if (rule.visits === 'plan') yield { subject: plan, ...wholePlan };
  else if (rule.visits === 'flight') {
    for (const flight of plan.flights) {
      const name = plan.flights.length > 1 ? `flight ${flight.number}` : 'the flight';
      yield { subject: flight, name, at: flight.first.id.span };
    }
  } else if (rule.visits === 'leg') yield* legsOf(plan, tools);
  else if (rule.visits === 'item') yield* itemsOf(plan, tools);
  else if (rule.visits === 'aircraft') {
    const aircraft = aircraftOf(tools);
    if (aircraft !== undefined)
      yield { subject: aircraft, name: 'the aircraft', at: plan.aircraft?.span ?? plan.titleSpan };
    else if (!isMissing(tools.world.aircraft)) return;
    else throw new NotAssessed(tools.world.aircraft.missing, tools.world.aircraft.due);
  } else if (rule.visits === 'acceptance') {
    for (const outcome of outcomes.acceptances)
      yield { subject: outcome, name: 'an acceptance', at: outcome.acceptance.span };
  } else if (rule.visits === 'owed') {
    for (const owed of outcomes.owed) yield { subject: owed, name: `${owed.kind} from ${owed.whom}`, at: owed.at };
  } else if (rule.visits === 'lift') {
    for (const lift of outcomes.lifts) yield { subject: lift, name: `${lift.kind} ${lift.name}`, at: lift.span };
  } else {
    const kind = rule.slip;
    for (const slip of plan.slips) if (slip.kind === kind) yield { subject: slip, name: slip.subject, at: slip.span };
  }
}

const gapOf = (rule: Rule, level: Level, visit: Omit<Visit, 'subject'>, thrown: unknown, tools: RuleTools): Gap => {
  const where = { rule: rule.id, level, at: visit.at, subject: visit.name, count: 1 };
  if (thrown instanceof NotAssessed) {
    const due = thrown.due;
    if (due !== undefined && due > tools.now) return { ...where, kind: 'not-yet', due, reason: thrown.message };
    return { ...where, kind: 'missing', reason: thrown.message };
  }
  const said = thrown instanceof Error ? thrown.message : String(thrown);
  return {
    ...where,
    level: 'stop',
    kind: 'fault',
    reason: `the rule failed here, which is a fault of this program, not of the plan; please report it: ${said}`,
  };
};

const keepMargin = (verdicts: Verdicts, margin: MarginHere): void => {
  if (verdicts.margin === undefined || outdoes(verdicts.margin.room, margin.room)) verdicts.margin = margin;
};

const keep = (verdicts: Verdicts, judgement: Judgement, pattern: Item | undefined): void => {
  if ('found' in judgement) verdicts.complaints.push(blamePattern(judgement.found, pattern));
  else if ('margin' in judgement) keepMargin(verdicts, judgement.margin);
  else if ('declared' in judgement) verdicts.declared.push(judgement.declared);
};

/** One rule looks at one subject. Yields where the rule pauses. */
function* lookAt(rule: Rule, visit: Visit, tools: RuleTools, verdicts: Verdicts): Generator<void, void> {
  verdicts.seen++;
  const pattern = patternOf(visit.subject);
  try {
    // The table of subjects ties `visits` to the type of the subject; TypeScript cannot see the pairing.
    for (const judgement of rule.check(visit.subject as never, tools)) {
      if ('pause' in judgement) yield;
      else if ('found' in judgement)
        keep(verdicts, { found: liftByWaivers(judgement.found, rule, visit.subject, tools) }, pattern);
      else keep(verdicts, judgement, pattern);
    }
  } catch (thrown) {
    verdicts.gaps.push(gapInPattern(gapOf(rule, verdicts.level, visit, thrown, tools), pattern));
  }
}

/**
 * Lets one rule look at each of its subjects. Missing data costs one subject a gap, not the rule; an exception of ours
 * is a gap of the kind "fault". Yields after each subject, so that the caller can stop or let others run.
 */
export function* judge(
  rule: Rule,
  level: Level,
  tools: RuleTools,
  outcomes: Outcomes = NOTHING_YET,
): Generator<void, Verdicts> {
  const { plan } = tools;
  const verdicts = noVerdicts(rule, level);
  const ofAircraft = rule.visits === 'aircraft' ? plan.aircraft?.span : undefined;
  const whole = { name: ofAircraft === undefined ? 'the plan' : 'the aircraft', at: ofAircraft ?? plan.titleSpan };
  try {
    for (const visit of visits(rule, plan, tools, outcomes)) {
      yield* lookAt(rule, visit, tools, verdicts);
      yield;
    }
  } catch (thrown) {
    verdicts.gaps.push(gapOf(rule, level, whole, thrown, tools));
  }
  return verdicts;
}

/** What the rules said of one subject; the rules that said nothing are not in it. */
type Said = readonly Verdicts[];

const KEPT = { leg: {}, item: {} } as const;

function* lookAll(rules: readonly Ruled[], visit: Visit, tools: RuleTools): Generator<void, Said> {
  // Which rules there are to look hangs on these two.
  void tools.ruleSet;
  void tools.settings;
  const said: Verdicts[] = [];
  for (const { rule, level } of rules) {
    const verdicts = noVerdicts(rule, level);
    yield* lookAt(rule, visit, tools, verdicts);
    const { complaints, declared, gaps, margin } = verdicts;
    if (margin !== undefined || complaints.length > 0 || declared.length > 0 || gaps.length > 0) said.push(verdicts);
    yield;
  }
  return said;
}

/** A rule and the level it has in this review. */
export interface Ruled {
  readonly rule: Rule;
  readonly level: Level;
}

/**
 * Lets all rules about legs, or about items, look at each of them. What they said of one is kept in the memory, and said
 * again while nothing they looked at has changed. Adds to the verdicts, in the order of the route.
 */
export function* judgeEach(
  kind: 'leg' | 'item',
  rules: readonly Ruled[],
  memory: Memory,
  tools: RuleTools,
): Generator<void, ReadonlyMap<Rule, Verdicts>> {
  const { plan } = tools;
  const all = new Map<Rule, Verdicts>(rules.map(({ rule, level }) => [rule, noVerdicts(rule, level)]));
  if (rules.length === 0) return all;
  const subjects = kind === 'leg' ? legsOf(plan, tools) : itemsOf(plan, tools);
  for (const visit of subjects) {
    const kept = memory.recall<Said>(KEPT[kind], visit.subject);
    const said = kept ?? (yield* memory.keep<Said>(KEPT[kind], visit.subject, () => lookAll(rules, visit, tools)));
    for (const one of said) {
      const verdicts = all.get(one.rule);
      if (verdicts === undefined) continue;
      verdicts.complaints.push(...one.complaints);
      verdicts.declared.push(...one.declared);
      verdicts.gaps.push(...one.gaps);
      if (one.margin !== undefined) keepMargin(verdicts, one.margin);
    }
  }
  for (const verdicts of all.values()) verdicts.seen = subjects.length;
  yield;
  return all;
}

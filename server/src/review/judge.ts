import { NotAssessed } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import type { Plan } from '../plan/model.ts';
import type { Complaint, DeclaredHere, Gap, Judgement, Level, MarginHere } from '../rulebook/finding.ts';
import type { AcceptanceOutcome, Rule, RuleTools } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { isMissing } from '../world/world.ts';

/** What one rule said over all its subjects, before grouping. */
export interface Verdicts {
  readonly rule: Rule;
  readonly level: Level;
  readonly complaints: Complaint[];
  readonly margins: MarginHere[];
  readonly declared: DeclaredHere[];
  readonly gaps: Gap[];
  /** How many subjects it looked at. */
  seen: number;
}

/** A subject and where a gap about it would stand. */
interface Visit {
  readonly subject: object;
  readonly name: string;
  readonly at: Span;
}

const aircraftOf = (tools: RuleTools): Aircraft | undefined =>
  isMissing(tools.world.aircraft) ? undefined : tools.world.aircraft;

/** The subjects of a rule; acceptances are handed in, since their fate is known only at the end. */
function* visits(rule: Rule, plan: Plan, tools: RuleTools, outcomes: readonly AcceptanceOutcome[]): Iterable<Visit> {
  const wholePlan = { name: 'the plan', at: plan.titleSpan };
  if (rule.visits === 'plan') yield { subject: plan, ...wholePlan };
  else if (rule.visits === 'flight') {
    for (const flight of plan.flights) {
      const name = plan.flights.length > 1 ? `flight ${flight.number}` : 'the flight';
      yield { subject: flight, name, at: flight.first.id.span };
    }
  } else if (rule.visits === 'leg') {
    for (const flight of plan.flights) {
      for (const leg of tools.ask(flownLegs, flight)) {
        yield { subject: leg, name: `leg ${leg.from.id.value} to ${leg.to.id.value}`, at: leg.to.id.span };
      }
    }
  } else if (rule.visits === 'item') {
    for (const item of plan.items) yield { subject: item, name: `${item.kind} ${item.id.value}`, at: item.id.span };
  } else if (rule.visits === 'aircraft') {
    const aircraft = aircraftOf(tools);
    if (aircraft !== undefined)
      yield { subject: aircraft, name: 'the aircraft', at: plan.aircraft?.span ?? plan.titleSpan };
    else if (!isMissing(tools.world.aircraft)) return;
    else throw new NotAssessed(tools.world.aircraft.missing, tools.world.aircraft.due);
  } else if (rule.visits === 'acceptance') {
    for (const outcome of outcomes) yield { subject: outcome, name: 'an acceptance', at: outcome.acceptance.span };
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

const keep = (verdicts: Verdicts, judgement: Judgement): void => {
  if ('found' in judgement) verdicts.complaints.push(judgement.found);
  else if ('margin' in judgement) verdicts.margins.push(judgement.margin);
  else verdicts.declared.push(judgement.declared);
};

/**
 * Lets one rule look at each of its subjects. Missing data costs one subject a gap, not the rule; an exception of ours
 * is a gap of the kind "fault". Yields after each subject, so that the caller can stop or let others run.
 */
export function* judge(
  rule: Rule,
  level: Level,
  tools: RuleTools,
  outcomes: readonly AcceptanceOutcome[] = [],
): Generator<void, Verdicts> {
  const { plan } = tools;
  const verdicts: Verdicts = { rule, level, complaints: [], margins: [], declared: [], gaps: [], seen: 0 };
  const ofAircraft = rule.visits === 'aircraft' ? plan.aircraft?.span : undefined;
  const whole = { name: ofAircraft === undefined ? 'the plan' : 'the aircraft', at: ofAircraft ?? plan.titleSpan };
  try {
    for (const visit of visits(rule, plan, tools, outcomes)) {
      verdicts.seen++;
      try {
        // The table of subjects ties `visits` to the type of the subject; TypeScript cannot see the pairing.
        for (const judgement of rule.check(visit.subject as never, tools)) keep(verdicts, judgement);
      } catch (thrown) {
        verdicts.gaps.push(gapOf(rule, level, visit, thrown, tools));
      }
      yield;
    }
  } catch (thrown) {
    verdicts.gaps.push(gapOf(rule, level, whole, thrown, tools));
  }
  return verdicts;
}

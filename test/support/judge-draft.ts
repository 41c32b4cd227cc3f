import type { Plan } from '../../server/src/plan/model.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import { NO_SETTINGS, type Settings } from '../../server/src/plan/settings.ts';
import type { Review } from '../../server/src/review/outcome.ts';
import { review } from '../../server/src/review/review.ts';
import type { Finding } from '../../server/src/rulebook/finding.ts';
import type { Rule } from '../../server/src/rulebook/rule.ts';
import { instant } from '../../server/src/units/frames.ts';
import type { World } from '../../server/src/world/world.ts';
import type { FlightDraft, WorldDraft } from './random-flight.ts';
import { textOf, worldOf } from './write-draft.ts';

/** The day before the window of the drafts. */
export const NOW = instant(Date.UTC(2026, 5, 13, 12));

export interface JudgeOptions {
  readonly settings?: Settings;
  readonly rules?: readonly Rule[];
}

/** Reviews a text in a world that was built directly. A rule that fails is never a result of a law: it throws. */
export const judge = (text: string, world: World, options: JudgeOptions = {}): Review =>
  judgePlan(readPlan(text, 'made.mission.yaml'), world, options, text);

/** As `judge`, of a plan that has been read; `text` is shown where a rule fails. */
export const judgePlan = (
  plan: Plan,
  world: World,
  { settings = NO_SETTINGS, rules }: JudgeOptions = {},
  text = '',
): Review => {
  const input = { plan, world, settings, now: NOW };
  const found = review(rules === undefined ? input : { ...input, rules });
  const fault = found.gaps.find((gap) => gap.kind === 'fault');
  if (fault !== undefined) throw new Error(`${fault.rule} failed: ${fault.reason}\n${text}`);
  return found;
};

export const judgeDraft = (flight: FlightDraft, world: WorldDraft, options: JudgeOptions = {}): Review =>
  judge(textOf(flight, world), worldOf(world), options);

/** House settings with the limits given as YAML, such as `height: { is: 100 m AGL }`. */
export const houseLimits = (limits: string): Settings => {
  const settings = readSettings(`settings: 1\nlimits: { ${limits} }\n`, 'waywarden.settings.yaml');
  if (settings.slips.length > 0) throw new Error(`the law's settings have a slip in: ${limits}`);
  return settings;
};

/** What a review says, without where in the text it stands, in an order of its own. */
export const said = (found: Review): readonly string[] =>
  [
    ...found.findings.map((finding) => `${finding.level} ${finding.rule}, ${finding.subject}: ${finding.message}`),
    ...found.gaps.map((gap) => `? ${gap.level} ${gap.rule}: ${gap.reason} (${gap.kind}, ${gap.count})`),
    // Which of several places with the same room is named may hang on the last digit of a longitude.
    ...found.margins.map((margin) => `${margin.rule} has ${margin.room.toFixed(2)} left`),
    ...found.matrix.map((row) => `${row.rule} = ${row.state}`),
  ].sort();

/** The rules that speak instead of a leg's when the leg's own end is already beyond the limit. */
const RULES_OF_THE_END: ReadonlyMap<string, readonly string[]> = new Map([
  ['leg-above-height-limit', ['point-above-height-limit', 'area-above-height-limit']],
  ['leg-meets-ground', ['point-below-ground', 'area-meets-ground']],
]);
const ELEVATION = 'the take-off elevation';

const tells = (found: Review, rule: string, subject: string): boolean =>
  found.findings.some((one) => one.rule === rule && (one.subject === subject || one.subject === ELEVATION));

/**
 * Whether a finding is still told by another review of the same route: of the same rule and subject, or, for a leg, of
 * the end that has become too high or too low by itself, or joined with others under the elevation that is to blame.
 */
export const isStillTold = (finding: Finding, found: Review): boolean => {
  if (tells(found, finding.rule, finding.subject)) return true;
  const rules = RULES_OF_THE_END.get(finding.rule) ?? [];
  // Findings that were joined may part again when the elevation comes to fit the ground.
  if (finding.subject === ELEVATION) {
    return found.findings.some((one) => one.rule === finding.rule || rules.includes(one.rule));
  }
  return found.plan.flights
    .flatMap((flight) => flight.legs)
    .filter((leg) => finding.subject === `leg ${leg.from.id.value} to ${leg.to.id.value}`)
    .flatMap((leg) => [leg.from, leg.to])
    .some((end) => rules.some((rule) => tells(found, rule, `${end.kind} ${end.id.value}`)));
};

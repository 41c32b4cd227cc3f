import type { Acceptance, Plan } from '../plan/model.ts';
import { type AcceptanceOutcome, isAcceptable, type Rule } from '../rulebook/rule.ts';
import { endOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import { acceptancesOf, landing } from './accept.ts';
import type { Verdicts } from './judge.ts';

interface Known {
  readonly plan: Plan;
  readonly rules: ReadonlyMap<string, Rule>;
  readonly judged: readonly Verdicts[];
  readonly used: ReadonlySet<Acceptance>;
  readonly now: Instant;
}

const fateOf = (acceptance: Acceptance, known: Known): AcceptanceOutcome['fate'] => {
  const { plan, rules, judged, used, now } = known;
  if (used.has(acceptance)) return 'used';
  const id = acceptance.rule?.value;
  const rule = id === undefined ? undefined : rules.get(id);
  if (rule === undefined) return 'rule unknown';
  const verdicts = judged.find((entry) => entry.rule === rule);
  const onlyNotes =
    verdicts !== undefined && verdicts.complaints.every((complaint) => (complaint.level ?? verdicts.level) === 'note');
  if (!isAcceptable(rule) && !(onlyNotes && verdicts.complaints.length > 0)) return 'not acceptable';
  if (acceptance.because === undefined) return 'without reason';
  const land = landing(plan, now);
  if (acceptance.until !== undefined && land.at > endOfDay(acceptance.until.value, land.offsetMinutes)) return 'lapsed';
  if (verdicts === undefined || verdicts.gaps.length > 0) return 'untested';
  if (acceptance.upTo === undefined && verdicts.complaints.some((complaint) => complaint.measured !== undefined))
    return 'without ceiling';
  return 'unused';
};

/** What became of each acceptance, for the rules about acceptances. */
export const fatesOf = (known: Known): readonly AcceptanceOutcome[] => {
  return acceptancesOf(known.plan).map((acceptance) => ({ acceptance, fate: fateOf(acceptance, known) }));
};

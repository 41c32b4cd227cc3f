import type { Acceptance, Plan } from '../plan/model.ts';
import type { Finding } from '../rulebook/finding.ts';
import { type AcceptanceOutcome, isAcceptable, type Rule } from '../rulebook/rule.ts';
import { endOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import { acceptancesOf, ceilingFor, hasReason, isAbout, isUnread, landing } from './accept.ts';
import type { Verdicts } from './judge.ts';

interface Known {
  readonly plan: Plan;
  readonly rules: ReadonlyMap<string, Rule>;
  readonly judged: readonly Verdicts[];
  readonly used: ReadonlySet<Acceptance>;
  /** The findings that no acceptance covers. */
  readonly standing: readonly Finding[];
  readonly now: Instant;
}

const fateOf = (acceptance: Acceptance, known: Known): AcceptanceOutcome['fate'] => {
  const { plan, rules, judged, used, standing, now } = known;
  if (used.has(acceptance)) return 'used';
  const id = acceptance.rule?.value;
  // What could not be read is told already.
  if (id === undefined || isUnread(acceptance, plan)) return 'untested';
  const rule = rules.get(id);
  if (rule === undefined) return 'rule unknown';
  const verdicts = judged.find((entry) => entry.rule === rule);
  const here = standing.filter((finding) => isAbout(acceptance, finding));
  const onlyNotes = here.length > 0 && here.every(({ level }) => level === 'note');
  if (!isAcceptable(rule) && !onlyNotes) return 'not acceptable';
  if (!hasReason(acceptance)) return 'without reason';
  const land = landing(plan, now);
  if (acceptance.until !== undefined && land.at > endOfDay(acceptance.until.value, land.offsetMinutes)) return 'lapsed';
  if (verdicts === undefined || verdicts.gaps.length > 0) return 'untested';
  const measures = here.flatMap(({ measured }) => measured ?? []);
  if (measures.some((measure) => ceilingFor(acceptance, measure) === undefined)) return 'without ceiling';
  return measures.length > 0 ? 'exceeded' : 'unused';
};

/** What became of each acceptance, for the rules about acceptances. */
export const fatesOf = (known: Known): readonly AcceptanceOutcome[] => {
  return acceptancesOf(known.plan).map((acceptance) => ({ acceptance, fate: fateOf(acceptance, known) }));
};

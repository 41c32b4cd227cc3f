import type { Plan } from '../plan/model.ts';
import { LEAD_KINDS, type Settings } from '../plan/settings.ts';
import type { Finding } from '../rulebook/finding.ts';
import type { Ask, Owed, Rule } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { type Instant, instant } from '../units/frames.ts';

/** Whom to ask for what lifts a finding; undefined where nobody can. */
const askOf = (rule: Rule | undefined, finding: Finding, ruleSet: RuleSetId | undefined): Ask | undefined => {
  if (rule?.ask !== undefined) return rule.ask;
  if (rule?.waivable === undefined || ruleSet !== 'us-part-107') return undefined;
  if (finding.limit?.setBy.startsWith('the house') === true) return undefined;
  return { whom: 'the aviation authority', kind: 'waiver' };
};

/**
 * What is to be asked for as long as the plan stays as it is: for each one who is asked and each kind of leave, what hangs
 * on it, and by when. The date is the beginning of the window less the time that the house states; without that there is
 * none. The earliest date first, those without one last.
 */
export const owedOf = (
  findings: readonly Finding[],
  rules: ReadonlyMap<string, Rule>,
  { plan, settings, ruleSet, now }: OwedInput,
): readonly Owed[] => {
  const from = plan.window?.from?.value.at;
  const all = new Map<string, { readonly ask: Ask; readonly findings: Finding[] }>();
  for (const finding of findings) {
    const ask = askOf(rules.get(finding.rule), finding, ruleSet);
    if (ask === undefined) continue;
    const key = `${ask.kind} ${ask.whom}`;
    const known = all.get(key);
    if (known === undefined) all.set(key, { ask, findings: [finding] });
    else known.findings.push(finding);
  }
  const owed = [...all.values()].flatMap(({ ask, findings: own }): readonly Owed[] => {
    const [first] = own;
    if (first === undefined) return [];
    const leadTime = settings.leadTimes[ask.kind];
    const by = leadTime === undefined || from === undefined ? undefined : instant(from - leadTime.value * 1000);
    return [
      {
        ...ask,
        rules: [...new Set(own.map(({ rule }) => rule))].sort(),
        subjects: [...new Set(own.map(({ subject }) => subject))],
        ...(leadTime === undefined ? {} : { leadTime }),
        ...(by === undefined ? {} : { by }),
        late: by !== undefined && by < now,
        at: first.at,
      },
    ];
  });
  const when = ({ by }: Owed): number => by ?? Number.POSITIVE_INFINITY;
  const order = ({ kind }: Owed): number => LEAD_KINDS.indexOf(kind);
  return owed.sort((one, other) => {
    const [a, b] = [when(one), when(other)];
    return a === b ? order(one) - order(other) : a < b ? -1 : 1;
  });
};

export interface OwedInput {
  readonly plan: Plan;
  readonly settings: Settings;
  readonly ruleSet: RuleSetId | undefined;
  readonly now: Instant;
}

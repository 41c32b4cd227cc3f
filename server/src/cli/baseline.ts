import { relative, resolve } from 'node:path';
import { byLevel, type Finding, type Gap, type Level } from '../rulebook/finding.ts';
import { digestOf } from '../text/digest.ts';
import type { Instant } from '../units/frames.ts';
import { UsageError } from './arguments.ts';
import type { BaselineHere, Checked, Run } from './checked.ts';

/** A finding or gap that was there when the baseline was written, by identity: never by line, number or count. */
export interface BaselineEntry {
  /** Path of the plan, counted from the folder of the baseline. */
  readonly plan: string;
  readonly what: 'finding' | 'gap';
  readonly rule: string;
  readonly subject: string;
  readonly level: Level;
  readonly identity: string;
}

const isFinding = (one: Finding | Gap): one is Finding => 'fingerprint' in one;

const identityOf = (one: Finding | Gap): string =>
  isFinding(one) ? one.fingerprint : digestOf(['gap', one.rule, one.subject]);

const keyOf = ({ plan, what, identity }: Pick<BaselineEntry, 'plan' | 'what' | 'identity'>): string =>
  `${what} ${identity} ${plan}`;

/** A flight is still to come until its window is known to be over. */
const isToCome = ({ review }: Checked, now: Instant): boolean => {
  const until = review.plan.window?.until?.value.at;
  return !review.past && (until === undefined || until > now);
};

/** What no baseline holds: a stop of a flight still to come, and a failure of ours. */
const isNeverCovered = (one: Finding | Gap, checked: Checked, now: Instant): boolean =>
  (one.level === 'stop' && isToCome(checked, now)) || ('kind' in one && one.kind === 'fault');

const planIn = (folder: string, checked: Checked): string =>
  relative(folder, checked.review.plan.document).replaceAll('\\', '/');

const entryOf = (one: Finding | Gap, checked: Checked, folder: string): BaselineEntry => ({
  plan: planIn(folder, checked),
  what: isFinding(one) ? 'finding' : 'gap',
  rule: one.rule,
  subject: one.subject,
  level: one.level,
  identity: identityOf(one),
});

const byText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

const inOrder = (one: BaselineEntry, other: BaselineEntry): number =>
  byText(one.plan, other.plan) ||
  byText(one.rule, other.rule) ||
  byText(one.subject, other.subject) ||
  byText(one.what, other.what) ||
  byText(one.identity, other.identity);

/** What a baseline would hold of a run, and how many it may not hold. */
export const baselineOf = (
  run: Run,
  folder: string,
): { readonly entries: readonly BaselineEntry[]; readonly left: number } => {
  const entries = new Map<string, BaselineEntry>();
  let left = 0;
  for (const checked of run.checked) {
    for (const one of [...checked.review.findings, ...checked.review.gaps]) {
      if (isNeverCovered(one, checked, run.now)) {
        left++;
        continue;
      }
      const entry = entryOf(one, checked, folder);
      const known = entries.get(keyOf(entry));
      if (known === undefined || byLevel(entry.level, known.level) < 0) entries.set(keyOf(entry), entry);
    }
  }
  return { entries: [...entries.values()].sort(inOrder), left };
};

const isLevel = (value: unknown): value is Level => value === 'stop' || value === 'caution' || value === 'note';

const isText = (value: unknown): value is string => typeof value === 'string';

const isEntry = (value: unknown): value is BaselineEntry => {
  if (typeof value !== 'object' || value === null) return false;
  const { plan, what, rule, subject, level, identity } = value as Partial<Record<keyof BaselineEntry, unknown>>;
  return [plan, rule, subject, identity].every(isText) && isLevel(level) && (what === 'finding' || what === 'gap');
};

/** Reads a baseline. One that is not whole is refused: half of it would let half of the old findings fail the check. */
export const readBaseline = (text: string, file: string): readonly BaselineEntry[] => {
  const refuse = (why: string): never => {
    throw new UsageError(`the baseline ${JSON.stringify(file)} ${why}; write a new one with --format baseline=FILE`);
  };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return refuse('is no JSON');
  }
  if (typeof value !== 'object' || value === null || !('format' in value) || value.format !== 1)
    return refuse('does not say "format": 1');
  const entries: unknown = 'entries' in value ? value.entries : undefined;
  if (!Array.isArray(entries)) return refuse('has no list of entries');
  const bad = entries.findIndex((entry) => !isEntry(entry));
  if (bad >= 0) return refuse(`has an entry that cannot be read, number ${bad + 1}`);
  return entries.filter(isEntry);
};

/** Whether a finding of the rule could be there without being told: some of it was not assessed. */
const isUntested = (entry: BaselineEntry, { review }: Checked): boolean =>
  entry.what === 'finding' &&
  (review.gaps.some((gap) => gap.rule === entry.rule) ||
    review.matrix.some((row) => row.rule === entry.rule && row.state === 'not-assessed'));

/**
 * A baseline over the plans of a run. It says what was there before; it takes nothing out of a report and changes no
 * level. `exists` tells whether a plan that was not looked at is still there.
 */
export const layBaseline = (
  entries: readonly BaselineEntry[],
  file: string,
  { checked, now }: Pick<Run, 'checked' | 'now'>,
  exists: (path: string) => boolean,
): BaselineHere => {
  const folder = resolve(file, '..');
  const byKey = new Map(entries.map((entry) => [keyOf(entry), entry]));
  const covers = (within: Checked, one: Finding | Gap): boolean => {
    const entry = byKey.get(keyOf(entryOf(one, within, folder)));
    if (entry === undefined || byLevel(one.level, entry.level) < 0) return false;
    return !isNeverCovered(one, within, now);
  };
  const plans = new Map(checked.map((one) => [planIn(folder, one), one]));
  const seen = new Set(
    checked.flatMap((one) =>
      [...one.review.findings, ...one.review.gaps].map((told) => keyOf(entryOf(told, one, folder))),
    ),
  );
  const stale: BaselineEntry[] = [];
  let unknown = 0;
  for (const entry of entries) {
    const plan = plans.get(entry.plan);
    if (plan === undefined) {
      if (exists(resolve(folder, entry.plan))) unknown++;
      else stale.push(entry);
    } else if (seen.has(keyOf(entry))) continue;
    else if (isUntested(entry, plan)) unknown++;
    else stale.push(entry);
  }
  return {
    file,
    entries: entries.length,
    covers,
    stale: stale.map(({ plan, rule, subject }) => ({ plan, rule, subject })),
    unknown,
  };
};

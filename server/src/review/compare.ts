import { byLevel, type Finding, type Level } from '../rulebook/finding.ts';
import { digestOf } from '../text/digest.ts';
import type { Review } from './outcome.ts';

/** What became of a finding. The first four take something out of sight, and stand first. */
export const FATES = [
  'no longer assessed',
  'newly accepted',
  'newly lifted',
  'no longer asked',
  'introduced',
  'worsened',
  'improved',
  'mended',
  'unchanged',
] as const;
export type Fate = (typeof FATES)[number];

/** The fates that a gate looks at: a finding that is there and was not, or that is there and cannot be seen any more. */
export const REACH_GATE: ReadonlySet<Fate> = new Set(FATES.slice(0, 6));

export interface ComparedFinding {
  readonly fate: Fate;
  readonly rule: string;
  readonly level: Level;
  readonly subject: string;
  readonly before?: Finding;
  readonly after?: Finding;
  /** Why it is no longer assessed, or who accepted or lifted it; finishes "because ...". */
  readonly because?: string;
}

/** Rule, named subject and ordinal, with the names that items have now: neither lines nor numbers. */
const identities = (
  findings: readonly Finding[],
  renames: ReadonlyMap<string, string>,
): ReadonlyMap<string, Finding> => {
  const seen = new Map<string, number>();
  const found = new Map<string, Finding>();
  for (const finding of findings) {
    const subject = renamed(finding.subject, renames);
    const name = digestOf([finding.rule, subject]);
    const ordinal = seen.get(name) ?? 0;
    seen.set(name, ordinal + 1);
    found.set(`${name} ${ordinal}`, finding);
  }
  return found;
};

/** A subject in the words of the new plan: each name that stands in it as a word of its own. */
const renamed = (subject: string, renames: ReadonlyMap<string, string>): string => {
  if (renames.size === 0) return subject;
  return subject
    .split(' ')
    .map((word) => renames.get(word) ?? word)
    .join(' ');
};

/** How far beyond its limit a finding is; undefined without a number. */
const excess = ({ measured, limit }: Finding): number | undefined =>
  measured === undefined || limit === undefined ? undefined : Math.abs(measured.value - limit.value);

/** A change of less than this is the arithmetic's. */
const NOISE = 1e-6;

const comparedOf = (before: Finding, after: Finding): Fate => {
  const level = byLevel(after.level, before.level);
  if (level !== 0) return level < 0 ? 'worsened' : 'improved';
  const [a, b] = [excess(before), excess(after)];
  const more = a === undefined || b === undefined ? after.count - before.count : b - a;
  if (Math.abs(more) <= NOISE) return 'unchanged';
  return more > 0 ? 'worsened' : 'improved';
};

/** Why a finding that is gone may still be there: its rule was not assessed, at that subject or at one that is not named. */
const unseenReason = (finding: Finding, head: Review): string | undefined => {
  const gap = head.gaps.find((one) => one.rule === finding.rule);
  if (gap !== undefined) return gap.reason;
  const row = head.matrix.find((one) => one.rule === finding.rule);
  return row?.state === 'not-assessed' ? row.because : undefined;
};

const unaskedReason = (finding: Finding, head: Review): string | undefined => {
  const row = head.matrix.find((one) => one.rule === finding.rule);
  if (row === undefined) return 'the rule is not in this version';
  if (row.state === 'switched-off') return `switched off: ${row.because}`;
  return row.state === 'does-not-apply' ? row.because : undefined;
};

/**
 * What a change of a plan does to its findings. They are matched by rule, named subject and ordinal. A finding whose rule
 * could not be judged afterwards is never "mended".
 */
export const compareReviews = (
  before: Review | undefined,
  after: Review | undefined,
  renames: ReadonlyMap<string, string> = new Map(),
): readonly ComparedFinding[] => {
  const old = identities(before?.findings ?? [], renames);
  const now = identities(after?.findings ?? [], new Map());
  const accepted = identities(after?.accepted.map(({ finding }) => finding) ?? [], new Map());
  const lifted = identities(after?.lifted.map(({ finding }) => finding) ?? [], new Map());
  const oldAccepted = identities(before?.accepted.map(({ finding }) => finding) ?? [], renames);
  const oldLifted = identities(before?.lifted.map(({ finding }) => finding) ?? [], renames);
  const compared: ComparedFinding[] = [];
  const add = (
    fate: Fate,
    finding: Finding,
    rest: Omit<ComparedFinding, 'fate' | 'rule' | 'level' | 'subject'>,
  ): void => {
    compared.push({ fate, rule: finding.rule, level: finding.level, subject: finding.subject, ...rest });
  };
  for (const [key, finding] of now) {
    const known = old.get(key);
    if (known === undefined) add('introduced', finding, { after: finding });
    else add(comparedOf(known, finding), finding, { before: known, after: finding });
  }
  // A finding that the same change brings and accepts, or lifts, is out of sight from its first day.
  for (const [key, finding] of accepted) {
    if (oldAccepted.has(key)) continue;
    const by = after?.accepted.find((one) => one.finding === finding)?.by.because?.value;
    const known = old.get(key);
    add('newly accepted', finding, {
      after: finding,
      ...(known && { before: known }),
      ...(by !== undefined && { because: by }),
    });
  }
  for (const [key, finding] of lifted) {
    if (oldLifted.has(key)) continue;
    const by = after?.lifted.find((one) => one.finding === finding)?.by;
    const known = old.get(key);
    const because = by === undefined ? {} : { because: `${by.kind} ${by.name}` };
    add('newly lifted', finding, { after: finding, ...(known && { before: known }), ...because });
  }
  for (const [key, finding] of old) {
    if (now.has(key) || accepted.has(key) || lifted.has(key)) continue;
    if (after === undefined) {
      add('mended', finding, { before: finding, because: 'the plan is gone' });
      continue;
    }
    const unasked = unaskedReason(finding, after);
    const unseen = unseenReason(finding, after);
    if (unasked !== undefined) add('no longer asked', finding, { before: finding, because: unasked });
    else if (unseen !== undefined) add('no longer assessed', finding, { before: finding, because: unseen });
    else add('mended', finding, { before: finding });
  }
  const order = (one: ComparedFinding): number => FATES.indexOf(one.fate);
  return compared.sort((one, other) => order(one) - order(other) || byLevel(one.level, other.level));
};

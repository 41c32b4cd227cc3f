import { resolve } from 'node:path';
import { byLevel, type Finding, type Gap, type Level } from '../../rulebook/finding.ts';
import { digestOf } from '../../text/digest.ts';
import { startOf } from '../../text/span.ts';
import { sayRfc3339 } from '../../units/calendar.ts';
import { sayList } from '../../units/say.ts';
import { type Checked, counts, type Range, type Run, rangeOf } from '../checked.ts';
import { shownPath } from '../shown-path.ts';

/** Stand where other entries have the name of their rule. No rule may bear them. */
export const NOT_ASSESSED = 'not-assessed';
export const NOT_OPENED = 'not-opened';

/**
 * One entry of a report that tells what is wrong one by one: a finding that stands, a reason for which rules were not
 * judged, a failure of ours, or a path that could not be opened.
 */
export interface Told {
  readonly kind: 'finding' | 'gap' | 'not-yet' | 'fault' | 'unopened';
  /** What it weighs today: what lies outside the gate weighs as much as a note. */
  readonly level: Level;
  readonly rule: string;
  readonly message: string;
  /** Absolute path of the document in which it stands. */
  readonly document: string;
  /** The same as people know it. */
  readonly path: string;
  readonly range: Range;
  /** 16 hex digits, the same while the matter is the same, and no other entry of the run has them. */
  readonly identity: string;
}

const START: Range = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };

/** Gaps with one reason are one: the missing file is told once, with all that hung on it. */
export const gapsByReason = (gaps: readonly Gap[]): readonly (readonly Gap[])[] => {
  const groups = new Map<string, Gap[]>();
  for (const gap of gaps) {
    const key = `${gap.kind} ${gap.due ?? ''} ${gap.reason}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [gap]);
    else group.push(gap);
  }
  return [...groups.values()];
};

/** Flights and the plan stand before their items in the text: the last place is the nearest to the reason. */
export const nearestTo = (group: readonly [Gap, ...Gap[]]): Gap =>
  group.reduce((one, other) => (startOf(other.at) > startOf(one.at) ? other : one));

export const sayGap = (gap: Gap, run: Run): string =>
  gap.kind === 'not-yet' && gap.due !== undefined && !run.allDue
    ? `due from ${sayRfc3339(gap.due)}: ${gap.reason}`
    : gap.reason;

const worstOf = (gaps: readonly Gap[]): Level => gaps.map((gap) => gap.level).sort(byLevel)[0] ?? 'stop';

const isGroup = (gaps: readonly Gap[]): gaps is readonly [Gap, ...Gap[]] => gaps.length > 0;

const ofFinding = (finding: Finding, checked: Checked, run: Run): Told => {
  const { document } = finding.at.anchor;
  const { past } = checked.review;
  const covered = run.baseline?.covers(checked, finding) === true;
  const aside = past ? ' (a flight that was flown, outside the gate)' : covered ? ' (in the baseline)' : '';
  return {
    kind: 'finding',
    level: past || covered ? 'note' : finding.level,
    rule: finding.rule,
    message: `${finding.message}${aside}`,
    document,
    path: shownPath(document),
    range: rangeOf(finding.at, checked.lines),
    identity: digestOf([checked.path, 'finding', finding.fingerprint]),
  };
};

const kindOf = (gap: Gap, run: Run): Told['kind'] =>
  gap.kind === 'fault' ? 'fault' : counts(gap, run.allDue) ? 'gap' : 'not-yet';

const ofGaps = (group: readonly [Gap, ...Gap[]], checked: Checked, run: Run): Told => {
  const gap = nearestTo(group);
  const kind = kindOf(gap, run);
  const { document } = gap.at.anchor;
  const { past } = checked.review;
  const open = group.filter((one) => run.baseline?.covers(checked, one) !== true);
  const aside = past ? ' (a flight that was flown, outside the gate)' : open.length === 0 ? ' (in the baseline)' : '';
  const light = kind !== 'fault' && (kind === 'not-yet' || past || open.length === 0);
  return {
    kind,
    level: light ? 'note' : worstOf(open.length === 0 ? group : open),
    rule: NOT_ASSESSED,
    message: `not assessed: ${sayGap(gap, run)}; so not judged there: ${sayList([...new Set(group.map((one) => one.rule))])}${aside}`,
    document,
    path: shownPath(document),
    range: rangeOf(gap.at, checked.lines),
    identity: digestOf([checked.path, NOT_ASSESSED, gap.kind, gap.reason]),
  };
};

const ofPlan = (checked: Checked, run: Run): readonly Told[] => [
  ...checked.review.findings.map((finding) => ofFinding(finding, checked, run)),
  ...gapsByReason(checked.review.gaps)
    .filter(isGroup)
    .map((group) => ofGaps(group, checked, run)),
];

/** What stands for an incomplete check comes first, since its exit code beats the others. */
const RANK: Readonly<Record<Told['kind'], number>> = { unopened: 0, fault: 0, finding: 1, gap: 1, 'not-yet': 2 };

const withOwnIdentity = (list: readonly Told[]): readonly Told[] => {
  const seen = new Map<string, number>();
  return list.map((told) => {
    const times = seen.get(told.identity) ?? 0;
    seen.set(told.identity, times + 1);
    return times === 0 ? told : { ...told, identity: digestOf([told.identity, String(times)]) };
  });
};

/** Everything a run has to tell, worst first, then in the order of the plans and their texts. */
export const toldOf = (run: Run): readonly Told[] => {
  const unopened = run.unopened.map(
    ({ path, reason }): Told => ({
      kind: 'unopened',
      level: 'stop',
      rule: NOT_OPENED,
      message: `not opened: ${reason}`,
      document: resolve(path),
      path,
      range: START,
      identity: digestOf([path, NOT_OPENED]),
    }),
  );
  const all = [...unopened, ...run.checked.flatMap((checked) => ofPlan(checked, run))];
  return withOwnIdentity(
    all.sort((one, other) => RANK[one.kind] - RANK[other.kind] || byLevel(one.level, other.level)),
  );
};

/** How many entries of each level. */
export const countsOf = (list: readonly Told[]): Readonly<Record<Level, number>> => {
  const count = (level: Level): number => list.filter((told) => told.level === level).length;
  return { stop: count('stop'), caution: count('caution'), note: count('note') };
};

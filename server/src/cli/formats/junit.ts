import type { MatrixRow } from '../../review/outcome.ts';
import { CAUTION } from '../../review/tell.ts';
import { atLeast, type Finding, type Gap } from '../../rulebook/finding.ts';
import { sayRfc3339 } from '../../units/calendar.ts';
import { type Checked, counts, type Run, rangeOf } from '../checked.ts';
import { worst } from './json.ts';
import { summary } from './text.ts';
import { sayGap } from './told.ts';
import { xmlLine, xmlLines } from './xml.ts';

/** So many places of one rule are listed in a test case; more are counted. */
const PLACES_SHOWN = 200;

/** A test case is a rule over a whole plan. */
interface Case {
  readonly name: string;
  readonly outcome: 'passed' | 'failure' | 'error' | 'skipped';
  readonly type?: string;
  readonly message: string;
  readonly lines: readonly string[];
}

const listed = (lines: readonly string[]): readonly string[] =>
  lines.length <= PLACES_SHOWN ? lines : [...lines.slice(0, PLACES_SHOWN), `and ${lines.length - PLACES_SHOWN} more`];

const lineOf = (one: Finding | Gap, checked: Checked, run: Run): string => {
  const { start } = rangeOf(one.at, checked.lines);
  const said = 'message' in one ? one.message : `not assessed for ${one.subject}: ${sayGap(one, run)}`;
  return `${checked.path}:${start.line}:${start.column}: ${one.level}: ${said}`;
};

/** Why a rule that has something to tell does not fail the check; undefined where it does. */
const outsideGate = (
  findings: readonly Finding[],
  gaps: readonly Gap[],
  checked: Checked,
  run: Run,
): string | undefined => {
  if (checked.review.past) return 'the flight was flown, and is outside the gate';
  const known = (one: Finding | Gap): boolean => run.baseline?.covers(checked, one) === true;
  const due = gaps.filter((gap) => counts(gap, run.allDue));
  const all = [...findings, ...due].filter((one) => atLeast(one.level, run.gate));
  if (all.some((one) => !known(one))) return undefined;
  if (all.length > 0) return 'all of it is in the baseline';
  if (findings.length > 0 || due.length > 0) return `below the gate, which is ${run.gate}`;
  return 'not yet due';
};

const caseOf = (
  row: MatrixRow,
  findings: readonly Finding[],
  gaps: readonly Gap[],
  checked: Checked,
  run: Run,
): Case => {
  const name = row.rule;
  const lines = listed([...findings, ...gaps].map((one) => lineOf(one, checked, run)));
  const fault = gaps.find((gap) => gap.kind === 'fault');
  if (fault !== undefined) return { name, outcome: 'error', type: 'fault', message: fault.reason, lines };
  const [worstFinding] = findings;
  const [worstGap] = gaps;
  const message =
    worstFinding?.message ?? (worstGap === undefined ? row.because : `not assessed: ${sayGap(worstGap, run)}`);
  if (worstFinding === undefined && worstGap === undefined) {
    const idle = row.state === 'switched-off' || row.state === 'not-assessed';
    return { name, outcome: idle ? 'skipped' : 'passed', message: `${row.state}: ${row.because}`, lines };
  }
  const why = outsideGate(findings, gaps, checked, run);
  if (why !== undefined) return { name, outcome: 'skipped', message: `${why}: ${message}`, lines };
  const failing = findings.some((finding) => atLeast(finding.level, run.gate));
  return { name, outcome: 'failure', type: failing ? (worstFinding?.level ?? 'stop') : 'not-assessed', message, lines };
};

const byRule = <T extends { readonly rule: string }>(list: readonly T[]): ReadonlyMap<string, readonly T[]> => {
  const groups = new Map<string, T[]>();
  for (const one of list) {
    const group = groups.get(one.rule);
    if (group === undefined) groups.set(one.rule, [one]);
    else group.push(one);
  }
  return groups;
};

/** Rules that do not belong to this kind of flight are no test cases; the counts of the suite say how many are. */
const casesOf = (checked: Checked, run: Run): readonly Case[] => {
  const { review } = checked;
  const findings = byRule(review.findings);
  const gaps = byRule(review.gaps);
  return review.matrix
    .filter(({ state }) => state !== 'does-not-apply' && state !== 'out-of-reach')
    .map((row) => caseOf(row, findings.get(row.rule) ?? [], gaps.get(row.rule) ?? [], checked, run));
};

const caseXml = (one: Case, path: string): string => {
  const open = `    <testcase name="${xmlLine(one.name)}" classname="${xmlLine(path)}" time="0"`;
  if (one.outcome === 'passed') return `${open}/>`;
  const type = one.outcome === 'skipped' ? '' : ` type="${xmlLine(one.type ?? 'stop')}"`;
  const text = one.lines.length === 0 ? '/>' : `>${xmlLines(one.lines)}</${one.outcome}>`;
  return `${open}>\n      <${one.outcome} message="${xmlLine(one.message)}"${type}${text}\n    </testcase>`;
};

interface Suite {
  readonly path: string;
  readonly cases: readonly Case[];
  readonly properties: readonly (readonly [string, string])[];
  readonly said: readonly string[];
}

const suiteXml = ({ path, cases, properties, said }: Suite, id: number, run: Run): string => {
  const number = (outcome: Case['outcome']): number => cases.filter((one) => one.outcome === outcome).length;
  // The schema of these files wants a time without an offset; it is the time of judging in UTC.
  const timestamp = sayRfc3339(run.now).slice(0, 19);
  const counted = `tests="${cases.length}" failures="${number('failure')}" errors="${number('error')}" skipped="${number('skipped')}"`;
  return [
    `  <testsuite name="${xmlLine(path) || '-'}" package="waywarden" id="${id}" timestamp="${timestamp}" hostname="localhost" ${counted} time="0">`,
    '    <properties>',
    ...properties.map(([name, value]) => `      <property name="${name}" value="${xmlLine(value)}"/>`),
    '    </properties>',
    ...cases.map((one) => caseXml(one, path)),
    `    <system-out>${xmlLines(said)}</system-out>`,
    '    <system-err/>',
    '  </testsuite>',
  ].join('\n');
};

const suiteOf = (checked: Checked, run: Run): Suite => {
  const { review } = checked;
  return {
    path: checked.path,
    cases: casesOf(checked, run),
    properties: [
      ['title', review.plan.title?.value ?? ''],
      ['rule set', review.ruleSet ?? 'not known'],
      ['worst', worst(review) ?? 'none'],
      ['complete', review.complete ? 'yes' : 'no'],
      ['gate', run.gate],
    ],
    said: [
      summary(review),
      ...review.accepted.map(
        ({ finding, by }) => `accepted: ${finding.rule}: ${finding.message}; because ${by.because?.value ?? ''}`,
      ),
      ...review.lifted.map(
        ({ finding, by }) => `lifted: ${finding.rule}: ${finding.message}; by ${by.kind} ${by.name}`,
      ),
      CAUTION,
    ],
  };
};

/**
 * JUnit XML: a suite for each plan and a test case for each rule in force. A rule fails where something at or above the
 * gate stands; it is skipped where what it tells lies outside the gate or is not yet due, and then says so.
 */
export const junitReport = (run: Run): string => {
  const suites = [
    ...run.checked.map((checked) => suiteOf(checked, run)),
    ...run.unopened.map(
      ({ path, reason }): Suite => ({
        path,
        cases: [{ name: 'not-opened', outcome: 'error', type: 'not-opened', message: reason, lines: [] }],
        properties: [],
        said: [],
      }),
    ),
  ];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<testsuites>',
    ...suites.map((suite, id) => suiteXml(suite, id, run)),
    '</testsuites>',
    '',
  ].join('\n');
};

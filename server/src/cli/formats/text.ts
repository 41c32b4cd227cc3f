import type { Margin, Review } from '../../review/outcome.ts';
import { sayEdition } from '../../review/rests-on.ts';
import { CAUTION } from '../../review/tell.ts';
import type { Finding, Gap, Level } from '../../rulebook/finding.ts';
import { RULE_SETS } from '../../rulebook/rule-set.ts';
import { sayAskedFor, sayLeadTime } from '../../rulebook/say-owed.ts';
import { RULES } from '../../rules/index.generated.ts';
import { dateAt, sayDate } from '../../units/calendar.ts';
import { sayCount, sayNumber } from '../../units/say.ts';
import { type Checked, exitCode, type Run, rangeOf } from '../checked.ts';
import { shownPath } from '../shown-path.ts';
import { type Paint, plain } from '../terminal.ts';
import { gapsByReason, nearestTo, sayGap } from './told.ts';

/** How many places of one rule are printed; the rest are counted. */
const PLACES_SHOWN = 12;
const MARGINS_SHOWN = 5;
const STRESS_SHOWN = 3;

const TITLES = new Map(RULES.map((rule) => [rule.id, rule.title]));

const groupsOf = <T extends { readonly rule: string; readonly level: Level }>(
  list: readonly T[],
): readonly (readonly T[])[] => {
  const groups = new Map<string, T[]>();
  for (const one of list) {
    const key = `${one.level} ${one.rule}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
};

/** The report for people: findings by rule, what was not assessed, and how near the limits the plan comes. */
export const textReport = (run: Run, paint: Paint): string => {
  const parts = run.checked.map((checked) => planText(checked, run, paint));
  for (const { path, reason } of run.unopened)
    parts.push(`${paint.stop('not opened')} ${plain(path)}: ${plain(reason)}\n`);
  parts.push(closing(run));
  return parts.join('\n');
};

const planText = (checked: Checked, run: Run, paint: Paint): string => {
  const { path, review, lines } = checked;
  const out: string[] = [];
  const known = (one: Finding | Gap): string =>
    run.baseline?.covers(checked, one) === true ? paint.faint(' (in the baseline)') : '';
  const at = (finding: Finding | Gap): string => {
    const { start } = rangeOf(finding.at, lines);
    return `${start.line}:${start.column}`;
  };
  out.push(
    paint.strong(`${plain(path)}${review.plan.title === undefined ? '' : `  ${plain(review.plan.title.value)}`}`),
  );
  out.push(paint.faint(`  ${judgedBy(review)}`));
  for (const group of groupsOf(review.findings)) {
    const [first] = group;
    if (first === undefined) continue;
    out.push('', `  ${paint[first.level](first.level)}  ${paint.strong(first.rule)}  ${TITLES.get(first.rule) ?? ''}`);
    for (const finding of group.slice(0, PLACES_SHOWN)) {
      out.push(`    ${plain(path)}:${at(finding)}  ${plain(finding.message)}${known(finding)}`);
      for (const line of elsewhere(finding, checked)) out.push(paint.faint(`      ${line}`));
      for (const fix of finding.fixes ?? []) out.push(paint.faint(`      mend: ${plain(fix.title)}`));
    }
    if (group.length > PLACES_SHOWN) out.push(`    and ${group.length - PLACES_SHOWN} more`);
  }
  if (review.gaps.length > 0) {
    out.push('', `  ${paint.strong('not assessed')}`);
    for (const group of gapsByReason(review.gaps)) {
      const [first] = group;
      if (first === undefined) continue;
      const last = nearestTo([first, ...group]);
      out.push(`    ${plain(path)}:${at(last)}  ${gapText(first, run)}`);
      out.push(paint.faint(`      so not judged there: ${[...new Set(group.map((gap) => gap.rule))].join(', ')}`));
    }
    const waiting = waitingForRuleSet(review);
    if (waiting > 0)
      out.push(`    ${sayCount(waiting, 'more rule')} ${waiting === 1 ? 'waits' : 'wait'} until the rule set is known`);
  }
  out.push(...owedText(review, paint));
  if (review.accepted.length + review.lifted.length > 0) {
    out.push('', `  ${paint.strong('accepted or lifted')}`);
    for (const { finding, by } of review.accepted)
      out.push(`    ${finding.rule}: ${plain(finding.message)}; accepted because ${plain(by.because?.value ?? '')}`);
    for (const { finding, by } of review.lifted)
      out.push(`    ${finding.rule}: ${plain(finding.message)}; lifted by ${by.kind} ${plain(by.name)}`);
  }
  if (review.margins.length > 0) {
    out.push('', `  ${paint.strong('tightest margins')}`);
    for (const margin of review.margins.slice(0, MARGINS_SHOWN)) out.push(`    ${marginText(margin)}`);
  }
  out.push(...stressText(checked, paint));
  if (review.data.length > 0) {
    out.push('', `  ${paint.strong('data')}`);
    for (const source of review.data) out.push(paint.faint(`    ${plain(sayEdition(source, review.plan))}`));
  }
  out.push('', `  ${summary(review)}`, '');
  return out.join('\n');
};

/** Whom to ask for what, and by when. */
const owedText = ({ owed, plan }: Review, paint: Paint): readonly string[] => {
  if (owed.length === 0) return [];
  const offset = plan.window?.from?.value.offsetMinutes ?? 0;
  return [
    '',
    `  ${paint.strong('to be asked for, as the plan stands')}`,
    ...owed.map((one) => {
      const by = one.by === undefined ? 'in good time' : `by ${sayDate(dateAt(one.by, offset))}`;
      const late = one.late ? ', which is over' : '';
      const takes = one.leadTime === undefined ? 'the settings do not say how long it takes' : sayLeadTime(one);
      return `    ${by}${late}: ${sayAskedFor(one)} from ${one.whom} (${takes}), for ${one.rules.join(', ')}`;
    }),
  ];
};

/** What breaks first as the day turns out worse. */
const stressText = ({ stress }: Checked, paint: Paint): readonly string[] => {
  if (stress === undefined) return [];
  const lines = ['', `  ${paint.strong('what breaks first')}`];
  for (const { what, most, first } of stress) {
    if (first === undefined) {
      lines.push(`    ${what}: nothing new up to ${most}`);
      continue;
    }
    lines.push(`    ${what}: at ${first.amount}, step ${first.step} of ${first.of}`);
    for (const { level, rule, message } of first.findings.slice(0, STRESS_SHOWN))
      lines.push(`      ${paint[level](level)}  ${rule}: ${plain(message)}`);
    if (first.findings.length > STRESS_SHOWN) lines.push(`      and ${first.findings.length - STRESS_SHOWN} more`);
  }
  return lines;
};

const judgedBy = (review: Review): string => {
  const day = review.plan.window?.from?.value;
  const when = day === undefined ? '' : `, flight of ${sayDate(dateAt(day.at, day.offsetMinutes))}`;
  const flown = review.past ? ', judged as of the day it was flown' : '';
  const by =
    review.ruleSet === undefined
      ? 'the rule set is not known'
      : `judged by the rules for ${RULE_SETS[review.ruleSet].name}`;
  return `${by}${when}${flown}`;
};

const gapText = (gap: Gap, run: Run): string => `${gap.level}  ${plain(sayGap(gap, run))}`;

/** "leg-above-height-limit: leg home to ridge, 60.4 m above ground, limit 121.92 m, room 61.52 m, data within 9.7 m" */
const marginText = ({ rule, subject, measured, limit, room, error }: Margin): string => {
  const { unit, frame } = measured;
  const data = error === undefined ? '' : `, data within ${sayNumber(error)} ${unit}`;
  const is = `${sayNumber(measured.value, 2)} ${unit}${frame === undefined ? '' : ` ${frame}`}`;
  return `${rule}: ${plain(subject)}, ${is}, limit ${sayNumber(limit.value, 2)} ${unit}, room ${sayNumber(room, 2)} ${unit}${data}`;
};

/** Places in other documents that a finding is about: the mistake stands there, not in the plan. */
const elsewhere = (finding: Finding, { review, lines }: Checked): readonly string[] =>
  (finding.related ?? [])
    .filter(({ at }) => at.anchor.document !== review.plan.document)
    .map(({ at, message }) => {
      const { start } = rangeOf(at, lines);
      return `${plain(shownPath(at.anchor.document))}:${start.line}:${start.column}  ${plain(message)}`;
    });

/** Rules that were not looked at, since it is not known by which law the flight is judged. They have no gap of their own. */
const waitingForRuleSet = (review: Review): number => {
  const told = new Set(review.gaps.map((gap) => gap.rule));
  return review.matrix.filter((row) => row.state === 'not-assessed' && !told.has(row.rule)).length;
};

/** How many checks gave no answer at all, and how many one for a part of the plan only. */
const sayOpen = (review: Review): string => {
  const states = new Map(review.matrix.map((row) => [row.rule, row.state]));
  const wholly = review.matrix.filter((row) => row.state === 'not-assessed').length;
  const rules = new Set(review.gaps.map((gap) => gap.rule));
  const partly = [...rules].filter((rule) => states.get(rule) !== 'not-assessed').length;
  if (wholly === 0 && partly === 0) return 'nothing not assessed';
  return [
    ...(wholly > 0 ? [`${wholly} not assessed`] : []),
    ...(partly > 0 ? [`${partly} assessed in part only`] : []),
  ].join(', ');
};

/** "nothing found in 34 checks; 3 not assessed" */
export const summary = (review: Review): string => {
  const count = (level: Level): number => review.findings.filter((finding) => finding.level === level).length;
  const found = (['stop', 'caution', 'note'] as const)
    .filter((level) => count(level) > 0)
    .map((level) => sayCount(count(level), level))
    .join(', ');
  return `${found === '' ? 'nothing found' : found} in ${sayCount(review.checks, 'check')}; ${sayOpen(review)}`;
};

const closing = (run: Run): string => {
  const meaning = [
    'nothing at or above the gate',
    'something at or above the gate',
    'the check could not be completed',
  ][exitCode(run)];
  return `${sayCount(run.checked.length, 'plan')} read, gate ${run.gate}: ${meaning ?? ''}\n${CAUTION}\n`;
};

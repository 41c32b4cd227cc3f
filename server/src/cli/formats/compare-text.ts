import { type ComparedFinding, FATES } from '../../review/compare.ts';
import { CAUTION } from '../../review/tell.ts';
import type { Finding } from '../../rulebook/finding.ts';
import { sayCount, sayNumber } from '../../units/say.ts';
import { type ComparedPlan, type Comparison, exitOf, pathOf, told } from '../compared.ts';
import { type Paint, plain } from '../terminal.ts';
import { matters, sayChange, saySettingsChange } from './say-change.ts';

const MOST = 12;

const sayValue = ({ measured }: Finding): string =>
  measured === undefined ? '' : `${sayNumber(measured.value, 2)} ${measured.unit}`;

/** "131.4 m before, 140.2 m now" where a finding stands on both sides with a number. */
export const sayMove = ({ before, after, fate }: ComparedFinding): string => {
  if (before === undefined || after === undefined || fate === 'unchanged') return '';
  const [old, now] = [sayValue(before), sayValue(after)];
  return old === '' || old === now ? '' : ` (${old} before, ${now} now)`;
};

const messageOf = ({ before, after }: ComparedFinding): string => (after ?? before)?.message ?? '';

const planText = (plan: ComparedPlan, paint: Paint): string => {
  const { before, after } = plan;
  const title = (after ?? before)?.review.plan.title?.value ?? '';
  const moved = before !== undefined && after !== undefined && before.path !== after.path;
  const how =
    before === undefined ? ' (new)' : after === undefined ? ' (gone)' : moved ? ` (was ${plain(before.path)})` : '';
  const lines = [`${paint.strong(`${plain(pathOf(plan))}${how}`)}  ${plain(title)}`];
  for (const change of plan.settings) lines.push(`  ${paint.strong(saySettingsChange(change))}`);
  const findings = told(plan);
  for (const fate of FATES) {
    const own = findings.filter((one) => one.fate === fate);
    if (own.length === 0) continue;
    lines.push('', `  ${paint.strong(fate)}`);
    for (const one of own.slice(0, MOST)) {
      const why = one.because === undefined ? '' : `; because ${plain(one.because)}`;
      lines.push(`    ${paint[one.level](one.level)}  ${one.rule}: ${plain(messageOf(one))}${sayMove(one)}${why}`);
    }
    if (own.length > MOST) lines.push(`    and ${own.length - MOST} more`);
  }
  if (plan.changes.length > 0) {
    lines.push('', `  ${paint.strong('what changed')}`);
    const ordered = [...plan.changes.filter(matters), ...plan.changes.filter((change) => !matters(change))];
    for (const change of ordered.slice(0, 2 * MOST)) lines.push(`    ${plain(sayChange(change))}`);
    if (ordered.length > 2 * MOST) lines.push(`    and ${ordered.length - 2 * MOST} more`);
  } else if (before !== undefined && after !== undefined && findings.length > 0) {
    lines.push('', '  the plan itself did not change: something that it refers to did');
  }
  lines.push('');
  return lines.join('\n');
};

export const compareText = (comparison: Comparison, paint: Paint): string => {
  const { base, head, plans, looked, unopened, gate } = comparison;
  const parts = [`${plain(base)} → ${plain(head)}\n`, ...plans.map((plan) => planText(plan, paint))];
  for (const { path, reason } of unopened) parts.push(`${paint.stop('not opened')} ${plain(path)}: ${plain(reason)}\n`);
  const meaning = [
    'nothing that reaches the gate',
    'something that reaches the gate',
    'the comparison could not be completed',
  ][exitOf(comparison)];
  parts.push(`${sayCount(plans.length, 'plan')} of ${looked} changed, gate ${gate}: ${meaning ?? ''}\n${CAUTION}\n`);
  return parts.join('\n');
};

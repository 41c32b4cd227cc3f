import type { Review } from '../review/outcome.ts';
import { sayEdition } from '../review/rests-on.ts';
import type { Finding, Gap, Level } from '../rulebook/finding.ts';
import { byLevel } from '../rulebook/finding.ts';
import type { Rule } from '../rulebook/rule.ts';
import { sayLimit, sayMeasure } from '../rulebook/say-measure.ts';
import { RULES } from '../rules/index.generated.ts';
import { sayTimeAndUtc } from '../units/calendar.ts';
import { sayCount, sayPosition } from '../units/say.ts';
import { type Breach, sayBreach } from './breaches.ts';
import { type Markup, markup, type Part } from './markup.ts';
import { bullets, lines, table } from './page-parts.ts';

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map((rule) => [rule.id, rule]));
const titleOf = (id: string): string => byId.get(id)?.title ?? '';

/** More rows than these fill no page that anybody reads; the rest is counted. */
const MOST_ROWS = 200;

const bounded = <T>(all: readonly T[], what: string, show: (some: readonly T[]) => Markup): Markup =>
  markup`${show(all.slice(0, MOST_ROWS))}${
    all.length > MOST_ROWS
      ? markup`<p>${String(all.length - MOST_ROWS)} more ${what} are not shown here; waywarden check tells all.</p>\n`
      : undefined
  }`;

/** "2 stops, 1 caution in 112 checks; 3 not assessed" */
export const sayStanding = (review: Review): string => {
  const count = (level: Level): number => review.findings.filter((finding) => finding.level === level).length;
  const found = (['stop', 'caution', 'note'] as const)
    .filter((level) => count(level) > 0)
    .map((level) => sayCount(count(level), level))
    .join(', ');
  const wholly = review.matrix.filter(({ state }) => state === 'not-assessed').map(({ rule }) => rule);
  const partly = new Set(review.gaps.map(({ rule }) => rule).filter((rule) => !wholly.includes(rule)));
  return `${found === '' ? 'nothing found' : found} in ${sayCount(review.checks, 'check')}; ${wholly.length} not assessed${partly.size === 0 ? '' : `, ${partly.size} in part only`}`;
};

const where = ({ place }: Finding): Part => (place === undefined ? undefined : sayPosition(place.at));

/** What was found and stands, by its number on the pictures. */
export const findingsTable = (breaches: readonly Breach[]): Markup => {
  const found = breaches.filter(({ state }) => state === 'found');
  if (found.length === 0) return markup`<p>Nothing was found in what was assessed.</p>\n`;
  return bounded(found, 'findings', (some) =>
    table(
      'What was found',
      ['Number', 'What', 'Rule', 'To mend', 'Where'],
      some.map((breach) => {
        const { message, rule, fixes = [], sources } = breach.finding;
        return [
          markup`<b>${sayBreach(breach)}</b>`,
          message,
          lines(markup`<code>${rule}</code>`, sources.join('; ')),
          lines(...fixes.slice(0, 2).map(({ title }) => title)),
          where(breach.finding),
        ];
      }),
    ),
  );
};

/** What was found and is accepted by the crew or lifted by a paper. */
export const settledTable = ({ accepted, lifted }: Review, breaches: readonly Breach[]): Markup => {
  const rows = [
    ...accepted.map(({ by }): string =>
      [`accepted: ${by.because?.value ?? 'without a reason'}`, by.upTo && `up to ${by.upTo.number} ${by.upTo.unit}`]
        .filter((part) => part !== undefined)
        .join(', '),
    ),
    ...lifted.map(({ by }): string => `lifted by ${by.kind} ${by.name}`),
  ];
  const settled = breaches.filter(({ state }) => state !== 'found');
  if (settled.length === 0) return markup`<p>Nothing is accepted and nothing is lifted.</p>\n`;
  return bounded(settled, 'entries', (some) =>
    table(
      'Accepted or lifted',
      ['Number', 'What', 'By'],
      some.map((breach, i) => [sayBreach(breach), breach.finding.message, rows[i]]),
    ),
  );
};

interface GapGroup {
  readonly gap: Gap;
  readonly level: Level;
  readonly rules: readonly string[];
}

const groupsOf = (gaps: readonly Gap[]): readonly GapGroup[] => {
  const groups = new Map<string, Gap[]>();
  for (const gap of gaps) {
    const key = `${gap.kind} ${gap.due ?? ''} ${gap.reason}`;
    groups.set(key, [...(groups.get(key) ?? []), gap]);
  }
  return [...groups.values()].flatMap((group) => {
    const [gap] = group;
    const [level] = group.map((one) => one.level).sort(byLevel);
    return gap === undefined || level === undefined
      ? []
      : [{ gap, level, rules: [...new Set(group.map(({ rule }) => rule))] }];
  });
};

const dueOf = ({ gap }: GapGroup, { plan }: Review): string =>
  gap.kind === 'not-yet' && gap.due !== undefined
    ? `due from ${sayTimeAndUtc({ at: gap.due, offsetMinutes: plan.window?.from?.value.offsetMinutes ?? 0 })}`
    : gap.kind === 'fault'
      ? 'a fault of this program'
      : 'now';

/** What was not assessed, each reason once, with when it can be had and what hangs on it. */
export const gapsTable = (review: Review): Markup => {
  const groups = groupsOf(review.gaps);
  const silent = review.matrix.filter(
    ({ rule, state }) => state === 'not-assessed' && !review.gaps.some((gap) => gap.rule === rule),
  );
  if (groups.length + silent.length === 0) return markup`<p>Nothing was left without an assessment.</p>\n`;
  return markup`${bounded(groups, 'reasons', (some) =>
    table(
      'Not assessed, and when it can be',
      ['Why', 'When', 'Level', 'So not judged there'],
      some.map((group) => [group.gap.reason, dueOf(group, review), group.level, group.rules.join(', ')]),
    ),
  )}${silent.length === 0 ? undefined : markup`<p>${sayCount(silent.length, 'more rule')} wait until the rule set is known.</p>\n`}`;
};

/** What a paper could lift, and what is missing now: the crew has to ask for it. What is not yet due is listed with its time. */
export const askingFor = (review: Review): Markup => {
  const papers = review.findings.filter(({ rule }) => {
    const known = byId.get(rule);
    return known !== undefined && (known.waivable !== undefined || known.question === 'May I fly here?');
  });
  const groups = groupsOf(review.gaps).filter(({ gap }) => gap.kind !== 'fault');
  const items = [
    ...papers.map(
      (finding) => markup`a paper that lifts it, or another plan: ${finding.message} <code>${finding.rule}</code>`,
    ),
    ...groups.map((group) => markup`${dueOf(group, review)}: ${group.gap.reason}`),
  ];
  return items.length === 0
    ? markup`<p>Nothing that was looked for is missing.</p>\n`
    : bounded(items, 'entries', (some) => bullets(some));
};

/** The tightest place of each rule with a number. */
export const marginsTable = ({ margins }: Review, most: number): Markup =>
  margins.length === 0
    ? markup`<p>No rule with a number was judged.</p>\n`
    : table(
        'Tightest margins',
        ['Place', 'Measured', 'Limit', 'Room', 'Rule'],
        margins
          .slice(0, most)
          .map(({ rule, subject, measured, limit, room, error }) => [
            subject,
            lines(
              sayMeasure(measured, limit),
              error === undefined ? undefined : `data within ${sayMeasure({ ...measured, value: error })}`,
            ),
            lines(sayLimit(limit), limit.setBy),
            sayMeasure({ value: room, unit: measured.unit }),
            markup`<code>${rule}</code>`,
          ]),
      );

/** Every rule with its state and what that rests on. */
export const matrixTable = ({ matrix }: Review): Markup =>
  table(
    'Every rule, its state and what that rests on',
    ['Rule', 'State', 'Because'],
    matrix.map(({ rule, state, because }) => [
      markup`<code>${rule}</code>: ${titleOf(rule)}`,
      state.replaceAll('-', ' '),
      because,
    ]),
  );

export const dataList = ({ data, plan }: Review): Markup =>
  data.length === 0
    ? markup`<p>The plan names no data.</p>\n`
    : bullets(data.map((source) => sayEdition(source, plan)));

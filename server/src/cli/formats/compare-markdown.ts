import { type ComparedFinding, FATES, type Fate, REACH_GATE } from '../../review/compare.ts';
import type { Margin } from '../../review/outcome.ts';
import { CAUTION } from '../../review/tell.ts';
import { sayCount, sayNumber } from '../../units/say.ts';
import type { Run } from '../checked.ts';
import { type ComparedPlan, type Comparison, exitOf, pathOf, reachesGate, type Side, told } from '../compared.ts';
import { BoundedPage } from './bounded-page.ts';
import { sayMove } from './compare-text.ts';
import { planFeatures } from './geojson.ts';
import { hosted, hostedHtml } from './hosted-markdown.ts';
import { jsonLine } from './json.ts';
import { table } from './page-table.ts';
import { matters, sayChange, saySettingsChange } from './say-change.ts';
import { gapsByReason } from './told.ts';

/** A comment of a pull request holds 65,536 characters. */
const COMMENT = 60_000;
/** A map larger than this leaves no room for words. */
const MAP = 14_000;
const MARGINS_SHOWN = 5;
const LAST_LINE = 200;
const LEAST = 1500;

/** The hidden mark by which the comment is found again and edited in place. */
export const COMPARE_MARK = '<!-- waywarden:compare -->';

const countOf = (plans: readonly ComparedPlan[], fate: Fate): number =>
  plans.reduce((sum, plan) => sum + plan.findings.filter((one) => one.fate === fate).length, 0);

const HEADLINES = ['nothing that reaches the gate', 'to be looked at', 'not complete'];

const headline = (comparison: Comparison): string => {
  const { plans, looked, base, head, gate } = comparison;
  const counts = FATES.filter((fate) => fate !== 'unchanged' && countOf(plans, fate) > 0).map((fate) =>
    REACH_GATE.has(fate) ? `**${countOf(plans, fate)} ${fate}**` : `${countOf(plans, fate)} ${fate}`,
  );
  const loosened = plans
    .flatMap(({ settings }) => settings)
    .filter(({ kind }) => kind === 'limit loosened' || kind === 'rule switched off');
  const said = [...new Set(loosened.map(saySettingsChange))].map((line) => `**${hosted(line)}**`);
  const parts = [...said, ...counts];
  return `${COMPARE_MARK}\n## Mission plans: ${HEADLINES[exitOf(comparison)] ?? ''}\n\n${parts.length === 0 ? 'No finding changed.' : `${parts.join(', ')}.`}\n\n${hosted(base)} → ${hosted(head)}: ${sayCount(plans.length, 'plan')} of ${looked} changed, gate ${gate}.\n\n`;
};

const sayLevel = (level: ComparedFinding['level']): string => (level === 'stop' ? '**stop**' : level);

const findingRow = (one: ComparedFinding): string => {
  const message = (one.after ?? one.before)?.message ?? '';
  const why = one.because === undefined ? '' : `; because ${one.because}`;
  const fate = REACH_GATE.has(one.fate) ? `**${one.fate}**` : one.fate;
  return `| ${fate} | ${sayLevel(one.level)} | ${hosted(one.rule)} | ${hosted(`${message}${sayMove(one)}${why}`)} |\n`;
};

const measured = (value: number, { unit, frame }: Margin['measured']): string =>
  hosted(`${sayNumber(value, 2)} ${unit}${frame === undefined ? '' : ` ${frame}`}`);

/** The tightest margins now, each with the room that the same rule had before. */
const marginRows = ({ before, after }: ComparedPlan): readonly string[] => {
  const old = new Map((before?.review.margins ?? []).map((margin) => [margin.rule, margin]));
  return (after?.review.margins ?? []).slice(0, MARGINS_SHOWN).map((margin) => {
    const was = old.get(margin.rule);
    const room = (one: Margin | undefined): string =>
      one === undefined ? '' : hosted(`${sayNumber(one.room, 2)} ${one.measured.unit}`);
    return `| ${hosted(margin.rule)} | ${hosted(margin.subject)} | ${measured(margin.measured.value, margin.measured)} | ${measured(margin.limit.value, { ...margin.measured, value: margin.limit.value })} | ${room(margin)} | ${room(was)} |\n`;
  });
};

const gapRows = ({ after }: ComparedPlan): readonly string[] =>
  gapsByReason(after?.review.gaps ?? []).flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const rules = [...new Set(group.map((one) => one.rule))];
    return [`| ${sayLevel(first.level)} | ${hosted(first.reason)} | ${hosted(rules.join(', '))} |\n`];
  });

const changeRows = ({ changes }: ComparedPlan): readonly string[] =>
  [...changes.filter(matters), ...changes.filter((change) => !matters(change))].map(
    (change) => `| ${hosted(change.subject)} | ${hosted(sayChange(change))} |\n`,
  );

/** Layers are told apart by the names of their features, and by colour besides. */
const layer = (side: Side | undefined, name: 'before' | 'after', run: Run): readonly object[] => {
  if (side?.tools === undefined) return [];
  const stroke = name === 'before' ? '#767676' : '#1a4f8b';
  return planFeatures({ ...side, tools: side.tools }, run, { layers: 'no zones' }).map((feature) => ({
    ...feature,
    properties: {
      ...feature.properties,
      side: name,
      name: `${name}: ${String(feature.properties['name'] ?? '')}`,
      stroke,
      'marker-color': stroke,
    },
  }));
};

const map = (page: BoundedPage, plan: ComparedPlan, comparison: Comparison): void => {
  const run: Run = {
    version: comparison.version,
    now: comparison.now,
    gate: comparison.gate,
    allDue: false,
    checked: [],
    unopened: [],
  };
  const features = [...layer(plan.before, 'before', run), ...layer(plan.after, 'after', run)];
  if (features.length === 0) return;
  const drawn = jsonLine({ type: 'FeatureCollection', features });
  if (drawn.length > MAP) {
    page.add('The map is too large for this place; waywarden check --format geojson draws each side.\n\n');
    return;
  }
  // One line of JSON cannot end the fence: a backtick in it stands as an escape.
  page.add(
    `<details>\n<summary>Map: before in grey, after in blue, each named so</summary>\n\n\`\`\`geojson\n${drawn.replaceAll('`', '\\u0060')}\n\`\`\`\n\n</details>\n\n`,
  );
};

const sayWhere = ({ before, after }: ComparedPlan): string => {
  if (before === undefined) return ' (new)';
  if (after === undefined) return ' (gone)';
  return before.path === after.path ? '' : ` (was ${before.path})`;
};

const planFold = (page: BoundedPage, plan: ComparedPlan, comparison: Comparison): void => {
  const isOpen = reachesGate(plan, comparison.gate);
  const title = (plan.after ?? plan.before)?.review.plan.title?.value ?? '';
  const untouched = plan.changes.length === 0 && plan.before !== undefined && plan.after !== undefined;
  const opening = `<details${isOpen ? ' open' : ''}>\n<summary><b>${hostedHtml(`${pathOf(plan)}${sayWhere(plan)}`)}</b> ${hostedHtml(title)}</summary>\n\n`;
  page.within(opening, '</details>\n\n', () => {
    if (untouched) page.add('The plan itself did not change: something that it refers to did.\n\n');
    const settings = plan.settings.map((change) => `| ${hosted(saySettingsChange(change))} |\n`);
    table(page, 0.2, 'Settings', ['Change'], settings);
    table(page, 0.5, 'Findings', ['What became of it', 'Level', 'Rule', 'What'], told(plan).map(findingRow));
    table(page, 0.5, 'What changed', ['Subject', 'Change'], changeRows(plan));
    table(page, 0.4, 'Not assessed now', ['Level', 'Why', 'So not judged there'], gapRows(plan));
    const heads = ['Rule', 'Place', 'Measured', 'Limit', 'Room', 'Room before'];
    table(page, 0.5, 'Tightest margins', heads, marginRows(plan));
    map(page, plan, comparison);
  });
};

const planRow = (plan: ComparedPlan): string => {
  const count = (fates: ReadonlySet<Fate>): number => plan.findings.filter(({ fate }) => fates.has(fate)).length;
  const better = count(new Set<Fate>(['improved', 'mended']));
  return `| ${hosted(`${pathOf(plan)}${sayWhere(plan)}`)} | ${count(REACH_GATE)} | ${better} | ${plan.changes.length} | ${gapsByReason(plan.after?.review.gaps ?? []).length} |\n`;
};

/** The comment for a pull request. It holds no time and changes only when the matter does. */
export const compareMarkdown = (comparison: Comparison): string => {
  const page = new BoundedPage(COMMENT, (text) => text.length);
  const weight = (plan: ComparedPlan): number => (reachesGate(plan, comparison.gate) ? 0 : 1);
  const plans = [...comparison.plans].sort((one, other) => weight(one) - weight(other));
  page.within(headline(comparison), `${hosted(CAUTION)}\n`, () => {
    const unopened = comparison.unopened.map(({ path, reason }) => `| ${hosted(path)} | ${hosted(reason)} |\n`);
    table(page, 0.2, 'Not opened', ['Path', 'Why'], unopened);
    table(page, 0.3, 'Plans', ['Plan', 'To be looked at', 'Better', 'Changes', 'Not assessed'], plans.map(planRow));
    let shown = 0;
    for (const plan of plans) {
      const room = page.room - LAST_LINE;
      if (room < LEAST) break;
      page.part(Math.max(room / (plans.length - shown), room / 2), (part) => planFold(part, plan, comparison));
      shown++;
    }
    const left = plans.length - shown;
    if (left > 0) page.add(`${sayCount(left, 'more plan')} not shown here for want of room.\n\n`);
  });
  return page.text;
};

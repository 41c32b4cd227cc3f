import type { Margin } from '../../review/outcome.ts';
import { sayEdition } from '../../review/rests-on.ts';
import { CAUTION } from '../../review/tell.ts';
import { byLevel, type Finding, type Level } from '../../rulebook/finding.ts';
import { sayCount, sayList, sayNumber } from '../../units/say.ts';
import { type Checked, counts, exitCode, type Run, rangeOf } from '../checked.ts';
import { shownPath } from '../shown-path.ts';
import { BoundedPage } from './bounded-page.ts';
import { planFeatures } from './geojson.ts';
import { hosted, hostedHtml } from './hosted-markdown.ts';
import { jsonLine, worst } from './json.ts';
import { table } from './page-table.ts';
import { summary } from './text.ts';
import { gapsByReason, nearestTo, sayGap } from './told.ts';

/** A comment of a pull request holds 65,536 characters; a step's summary 1 MiB, beyond which all of it is lost. */
const COMMENT = 60_000;
const SUMMARY_BYTES = 1_000_000;
const MARGINS_SHOWN = 5;
/** A map larger than this leaves no room for words. */
const MAP = 12_000;

/** The hidden mark by which a comment is found again and edited in place. */
export const COMMENT_MARK = '<!-- waywarden:check -->';

const bytes = new TextEncoder();
const lengthInBytes = (text: string): number => bytes.encode(text).length;
const lengthInUnits = (text: string): number => text.length;

/** A comment for a pull request, which is edited in place: it holds no time and changes only when the matter does. */
export const markdownComment = (run: Run): string =>
  pageOf(run, new BoundedPage(COMMENT, lengthInUnits), { map: 'drawn' });

/** The summary of a job, which has room for more. Whether maps are drawn there is documented nowhere: it has none. */
export const markdownSummary = (run: Run): string =>
  pageOf(run, new BoundedPage(SUMMARY_BYTES, lengthInBytes), { map: 'left out' });

interface PageTerms {
  readonly map: 'drawn' | 'left out';
}

const countOf = (checked: readonly Checked[], level: Level): number =>
  checked.reduce((sum, { review }) => sum + review.findings.filter((finding) => finding.level === level).length, 0);

const openReasons = ({ review }: Checked): number => gapsByReason(review.gaps).length;

const worstOf = (checked: readonly Checked[]): Level | null =>
  checked.flatMap(({ review }) => worst(review) ?? []).sort(byLevel)[0] ?? null;

/** What is told first is about flights to come; one that was flown is history, and counted as such. */
const headline = (run: Run): string => {
  const { unopened } = run;
  const checked = run.checked.filter(({ review }) => !review.past);
  const flown = run.checked.length - checked.length;
  const level = worstOf(checked);
  const found = (['stop', 'caution', 'note'] as const)
    .filter((one) => countOf(checked, one) > 0)
    .map((one) => sayCount(countOf(checked, one), one));
  const open = checked.reduce((sum, one) => sum + openReasons(one), 0);
  const onlyFlown = flown > 0 && checked.length === 0;
  const word = unopened.length > 0 ? 'not complete' : onlyFlown ? 'flown' : (level ?? 'nothing found');
  const parts = [
    ...(unopened.length > 0 ? [`${sayCount(unopened.length, 'plan')} not opened`] : []),
    ...found,
    ...(open > 0 ? [`${sayCount(open, 'reason')} for what was not assessed`] : ['nothing not assessed']),
  ];
  const history = flown === 0 ? '' : ` ${sayCount(flown, 'plan')} of flights that were flown, outside the gate.`;
  return `${COMMENT_MARK}\n## Mission plans: ${word}\n\n${parts.join(', ')}, in ${sayCount(checked.length, 'plan')}.${history}\n\n`;
};

const GATE = ['nothing at or above it', 'something at or above it', 'the check could not be completed'];

const gateLine = (run: Run): string => {
  const base = run.baseline;
  const stale =
    base === undefined || base.stale.length === 0
      ? ''
      : ` ${sayCount(base.stale.length, 'entry', 'entries')} of the baseline ${base.stale.length === 1 ? 'is' : 'are'} stale.`;
  const since =
    run.unaffected === undefined || run.unaffected === 0
      ? ''
      : ` ${sayCount(run.unaffected, 'plan')} not looked at again: nothing that ${run.unaffected === 1 ? 'it reads' : 'they read'} has changed.`;
  return `Gate ${run.gate}: ${GATE[exitCode(run)] ?? ''}.${stale}${since}\n\n`;
};

const planRow = (checked: Checked): string => {
  const { review } = checked;
  const cell = (level: Level): string => String(countOf([checked], level));
  const state = worst(review) ?? (review.complete ? 'nothing found' : 'not assessed in full');
  const past = review.past ? ' (flown)' : '';
  return `| ${hosted(checked.path)} | ${state}${past} | ${cell('stop')} | ${cell('caution')} | ${cell('note')} | ${openReasons(checked)} |\n`;
};

/** Worst first: a plan with a stop before one with more cautions. */
const inWeight = (checked: readonly Checked[]): readonly Checked[] => {
  const count = (one: Checked, level: Level): number => countOf([one], level);
  return [...checked].sort(
    (one, other) =>
      count(other, 'stop') - count(one, 'stop') ||
      count(other, 'caution') - count(one, 'caution') ||
      openReasons(other) - openReasons(one) ||
      count(other, 'note') - count(one, 'note') ||
      (one.path < other.path ? -1 : one.path > other.path ? 1 : 0),
  );
};

const sayLevel = (level: Level): string => (level === 'stop' ? '**stop**' : level);

const lineOf = (one: { readonly at: Finding['at'] }, checked: Checked): string => {
  const { document } = one.at.anchor;
  const { start } = rangeOf(one.at, checked.lines);
  return document === checked.review.plan.document
    ? `line ${start.line}`
    : `${shownPath(document)}, line ${start.line}`;
};

const findingRow = (finding: Finding, checked: Checked, run: Run): string => {
  const known = run.baseline?.covers(checked, finding) === true ? ' (in the baseline)' : '';
  return `| ${sayLevel(finding.level)}${known} | ${hosted(finding.rule)} | ${hosted(lineOf(finding, checked))} | ${hosted(finding.message)} |\n`;
};

const gapRows = (checked: Checked, run: Run): readonly string[] =>
  gapsByReason(checked.review.gaps).flatMap((group) => {
    const [first, ...more] = group;
    if (first === undefined) return [];
    const gap = nearestTo([first, ...more]);
    const weight = counts(gap, run.allDue) ? sayLevel(gap.level) : 'not yet due';
    const rules = sayList([...new Set(group.map((one) => one.rule))]);
    return [`| ${weight} | ${hosted(lineOf(gap, checked))} | ${hosted(sayGap(gap, run))} | ${hosted(rules)} |\n`];
  });

const measured = (value: number, { unit, frame }: Margin['measured']): string =>
  hosted(`${sayNumber(value, 2)} ${unit}${frame === undefined ? '' : ` ${frame}`}`);

const marginRow = ({ rule, subject, measured: at, limit, room, error }: Margin): string =>
  `| ${hosted(rule)} | ${hosted(subject)} | ${measured(at.value, at)} | ${measured(limit.value, { ...at, value: limit.value })} (${hosted(limit.setBy)}) | ${hosted(`${sayNumber(room, 2)} ${at.unit}`)} | ${error === undefined ? '' : hosted(`${sayNumber(error)} ${at.unit}`)} |\n`;

/** The map of a plan behind its fold, without the zones where they are too much; undefined where all is too much. */
const mapFold = (checked: Checked, run: Run): string | undefined => {
  const drawn = (['zones', 'no zones'] as const)
    .map((layers) => jsonLine({ type: 'FeatureCollection', features: planFeatures(checked, run, { layers }) }))
    .find((text) => text.length <= MAP);
  if (drawn === undefined) return undefined;
  // One line of JSON cannot end the fence: a backtick in it stands as an escape.
  const fence = `\`\`\`geojson\n${drawn.replaceAll('`', '\\u0060')}\n\`\`\``;
  return `<details>\n<summary>Map of ${hostedHtml(checked.path)}: legs, items, findings and zones by name</summary>\n\n${fence}\n\n</details>\n\n`;
};

/** Maps come last and take only room that is left over: each fact of theirs stands in the tables. */
const maps = (page: BoundedPage, plans: readonly Checked[], run: Run): void => {
  const undrawn = plans.filter((checked) => {
    const fold = mapFold(checked, run);
    return fold === undefined || page.room - LAST_LINE < fold.length || !page.add(fold);
  });
  if (undrawn.length > 0)
    page.add(
      `${sayCount(undrawn.length, 'map')} left out for want of room; waywarden check --format geojson has all of them.\n\n`,
    );
};

const settledRows = ({ review }: Checked): readonly string[] => [
  ...review.accepted.map(
    ({ finding, by }) =>
      `| ${hosted(finding.rule)} | ${hosted(finding.message)} | accepted: ${hosted(by.because?.value ?? '')} |\n`,
  ),
  ...review.lifted.map(
    ({ finding, by }) => `| ${hosted(finding.rule)} | ${hosted(finding.message)} | ${by.kind} ${hosted(by.name)} |\n`,
  ),
];

const planFold = (page: BoundedPage, checked: Checked, run: Run): boolean => {
  const { review, path } = checked;
  const title = review.plan.title === undefined ? '' : `: ${review.plan.title.value}`;
  const state = worst(review) ?? 'nothing found';
  // What stops a flight is open at once; the rest waits behind its fold.
  const open = state === 'stop' ? ' open' : '';
  return page.within(
    `<details${open}>\n<summary><b>${state}</b> ${hostedHtml(path)}${hostedHtml(title)}</summary>\n\n${hosted(summary(review))}\n\n`,
    '</details>\n\n',
    () => {
      const found = review.findings.map((one) => findingRow(one, checked, run));
      table(page, 0.5, 'Found', ['Level', 'Rule', 'Where', 'What'], found);
      table(page, 0.5, 'Not assessed', ['Level', 'Where', 'Why', 'So not judged there'], gapRows(checked, run));
      const margins = review.margins.slice(0, MARGINS_SHOWN).map(marginRow);
      table(page, 0.7, 'Tightest margins', ['Rule', 'Place', 'Measured', 'Limit', 'Room', 'Data within'], margins);
      table(page, 0.5, 'Accepted or lifted', ['Rule', 'What', 'By'], settledRows(checked));
      const sources = review.data.map((source) => `| ${hosted(sayEdition(source, review.plan))} |\n`);
      table(page, 0.5, 'Data', ['Source'], sources);
    },
  );
};

/** So much of the page is kept for the last line about plans that did not fit. */
const LAST_LINE = 300;
/** With less room than this a plan's part would say nothing. */
const LEAST = 1500;

const pageOf = (run: Run, page: BoundedPage, terms: PageTerms): string => {
  const plans = inWeight(run.checked);
  page.within(headline(run) + gateLine(run), `${hosted(CAUTION)}\n`, () => {
    const unopened = run.unopened.map(({ path, reason }) => `| ${hosted(path)} | ${hosted(reason)} |\n`);
    table(page, 0.2, 'Not opened', ['Path', 'Why'], unopened);
    const heads = ['Plan', 'Worst', 'Stops', 'Cautions', 'Notes', 'Not assessed'];
    table(page, 0.3, 'Plans, the worst first', heads, plans.map(planRow));
    let left = plans.length;
    plans.forEach((checked, i) => {
      const room = page.room - LAST_LINE;
      if (room < LEAST) return;
      // A plan may take half of what is left, or all of it where none waits.
      const share = Math.max(room / (plans.length - i), room / 2);
      page.part(share, (part) => {
        if (planFold(part, checked, run)) left--;
      });
    });
    if (left > 0)
      page.add(
        `${sayCount(left, 'more plan')} ${left === 1 ? 'has' : 'have'} no part of ${left === 1 ? 'its' : 'their'} own here for want of room.\n\n`,
      );
    if (terms.map === 'drawn') maps(page, plans, run);
  });
  return page.text;
};

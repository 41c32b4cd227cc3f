import type { AcceptedFinding, LiftedFinding } from '../../review/outcome.ts';
import type { Finding, Fix, Gap } from '../../rulebook/finding.ts';
import type { Span } from '../../text/span.ts';
import { sayRfc3339 } from '../../units/calendar.ts';
import { sayCount } from '../../units/say.ts';
import { type Checked, exitCode, type Range, type Run, rangeOf } from '../checked.ts';
import { hostedPath, uriOf } from '../hosted-path.ts';
import { measure, place } from './json.ts';
import { descriptorsOf, MORE_FINDINGS, SARIF_LEVELS } from './sarif-rules.ts';
import { sarifText } from './sarif-text.ts';
import { sayGap, type Told, toldOf } from './told.ts';

/** The schema of SARIF 2.1.0 with errata 01 (OASIS, 28 August 2023). */
const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** Platforms keep this many results of a run, and drop the rest. */
const KEPT_BY_PLATFORMS = 5000;

const regionOf = ({ start, end }: Range) => ({
  startLine: start.line,
  startColumn: start.column,
  endLine: end.line,
  endColumn: end.column,
});

/** The first line of a place: a platform shows a result only where every line of its region was changed. */
const smallRegionOf = ({ start, end }: Range) =>
  start.line === end.line ? regionOf({ start, end }) : { startLine: start.line, startColumn: start.column };

interface Place {
  readonly document: string;
  readonly region: object;
}

const physical = ({ document, region }: Place, run: Run) => ({
  physicalLocation: { artifactLocation: { uri: uriOf(hostedPath(document, run.top)) }, region },
});

const notificationsOf = (run: Run) => [
  ...run.unopened.map(({ path, reason }) => ({
    level: 'error',
    message: { text: sarifText(`not opened ${path}: ${reason}`) },
  })),
  ...run.checked.flatMap(({ path, review }) =>
    review.gaps
      .filter((gap) => gap.kind === 'fault')
      .map((gap) => ({ level: 'error', message: { text: sarifText(`${path}: ${gap.rule}: ${gap.reason}`) } })),
  ),
];

interface Result {
  readonly ruleId: string;
}

/** The envelope of both profiles. */
const logOf = (run: Run, results: readonly Result[], more: object) => {
  const rules = descriptorsOf(results.map((result) => result.ruleId));
  const index = new Map(rules.map((rule, i) => [rule.id, i]));
  const code = exitCode(run);
  return {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Waywarden', version: run.version, rules } },
        automationDetails: { id: 'waywarden/' },
        invocations: [
          { executionSuccessful: code !== 2, exitCode: code, toolExecutionNotifications: notificationsOf(run) },
        ],
        columnKind: 'utf16CodeUnits',
        results: results.map(({ ruleId, ...result }) => ({ ruleId, ruleIndex: index.get(ruleId) ?? 0, ...result })),
        ...more,
      },
    ],
  };
};

// ── everything

const fixOf = ({ title, effect, edits }: Fix, checked: Checked, run: Run) => {
  const byDocument = new Map<string, object[]>();
  for (const { span, text } of edits) {
    const list = byDocument.get(span.anchor.document) ?? [];
    byDocument.set(span.anchor.document, list);
    list.push({ deletedRegion: regionOf(rangeOf(span, checked.lines)), insertedContent: { text } });
  }
  return {
    description: { text: sarifText(title) },
    artifactChanges: [...byDocument].map(([document, replacements]) => ({
      artifactLocation: { uri: uriOf(hostedPath(document, run.top)) },
      replacements,
    })),
    properties: { effect },
  };
};

const placeOf = (span: Span, checked: Checked, run: Run) =>
  physical({ document: span.anchor.document, region: regionOf(rangeOf(span, checked.lines)) }, run);

const resultOf = (finding: Finding, checked: Checked, run: Run) => {
  const { related = [], fixes = [], measured, limit } = finding;
  return {
    ruleId: finding.rule,
    kind: 'fail',
    level: SARIF_LEVELS[finding.level],
    message: { text: sarifText(finding.message) },
    locations: [
      {
        ...placeOf(finding.at, checked, run),
        logicalLocations: [{ fullyQualifiedName: sarifText(finding.subject) }],
      },
    ],
    ...(related.length === 0
      ? {}
      : {
          relatedLocations: related.map((remark, id) => ({
            id,
            ...placeOf(remark.at, checked, run),
            message: { text: sarifText(remark.message) },
          })),
        }),
    partialFingerprints: { 'waywarden/v1': finding.fingerprint },
    ...(run.baseline === undefined
      ? {}
      : { baselineState: run.baseline.covers(checked, finding) ? 'unchanged' : 'new' }),
    ...(fixes.length === 0 ? {} : { fixes: fixes.map((fix) => fixOf(fix, checked, run)) }),
    properties: {
      level: finding.level,
      plan: checked.path,
      past: checked.review.past,
      count: finding.count,
      sources: finding.sources,
      ...(measured === undefined ? {} : { measured: measure(measured) }),
      ...(limit === undefined ? {} : { limit: measure(limit) }),
      ...place(finding.place),
    },
  };
};

const suppressed = (justification: string, by: Span, checked: Checked, run: Run) => ({
  suppressions: [
    {
      kind: 'inSource',
      status: 'accepted',
      justification: sarifText(justification),
      location: placeOf(by, checked, run),
    },
  ],
});

const acceptedResult = ({ finding, by }: AcceptedFinding, checked: Checked, run: Run) => ({
  ...resultOf(finding, checked, run),
  ...suppressed(`accepted because ${by.because?.value ?? ''}`, by.span, checked, run),
});

const liftedResult = ({ finding, by }: LiftedFinding, checked: Checked, run: Run) => ({
  ...resultOf(finding, checked, run),
  ...suppressed(`lifted by ${by.kind} ${by.name}`, by.span, checked, run),
});

/** "Insufficient information to decide": section 3.27.9 calls that `open`, and 3.27.10 wants it without a level. */
const openResult = (gap: Gap, checked: Checked, run: Run) => ({
  ruleId: gap.rule,
  kind: 'open',
  level: 'none',
  message: { text: sarifText(`not assessed for ${gap.subject}: ${sayGap(gap, run)}`) },
  locations: [placeOf(gap.at, checked, run)],
  properties: {
    level: gap.level,
    plan: checked.path,
    past: checked.review.past,
    gap: gap.kind,
    ...(gap.due === undefined ? {} : { due: sayRfc3339(gap.due) }),
    count: gap.count,
  },
});

/** Everything: what stands, what was accepted or lifted and why, and what could not be judged. */
export const sarifReport = (run: Run) => {
  const results = run.checked.flatMap((checked): readonly Result[] => {
    const { review } = checked;
    return [
      ...review.findings.map((finding) => resultOf(finding, checked, run)),
      ...review.accepted.map((one) => acceptedResult(one, checked, run)),
      ...review.lifted.map((one) => liftedResult(one, checked, run)),
      ...review.gaps.map((gap) => openResult(gap, checked, run)),
    ];
  });
  return logOf(run, results, {
    artifacts: run.checked.map(({ review }) => ({
      location: { uri: uriOf(hostedPath(review.plan.document, run.top)) },
      roles: ['analysisTarget'],
    })),
    properties: { now: sayRfc3339(run.now), gate: run.gate },
  });
};

// ── what platforms use

const toldResult = (told: Told, run: Run) => ({
  ruleId: told.rule,
  level: SARIF_LEVELS[told.level],
  message: { text: sarifText(told.message) },
  locations: [physical({ document: told.document, region: smallRegionOf(told.range) }, run)],
  // The one fingerprint that platforms look at; the number after the colon is their own ordinal for a line.
  partialFingerprints: { primaryLocationLineHash: `${told.identity}:1` },
});

/**
 * What hosting platforms use: what stands and is due today, worst first, on the smallest region, with the help of its
 * rule. Accepted and lifted findings are left out, since platforms show them as open. Beyond what platforms keep, the
 * last result says how many more there are.
 */
export const sarifPlatformReport = (run: Run) => {
  const told = toldOf(run).filter(({ kind }) => kind !== 'not-yet');
  const first = told[KEPT_BY_PLATFORMS - 1];
  if (told.length <= KEPT_BY_PLATFORMS || first === undefined) {
    return logOf(
      run,
      told.map((one) => toldResult(one, run)),
      {},
    );
  }
  const kept = told.slice(0, KEPT_BY_PLATFORMS - 1);
  const rest = told.length - kept.length;
  const notice: Told = {
    ...first,
    rule: MORE_FINDINGS,
    message: `${sayCount(rest, 'more finding')} of this check ${rest === 1 ? 'is' : 'are'} not in this report, which holds as many as a platform keeps`,
    identity: MORE_FINDINGS,
  };
  return logOf(
    run,
    [...kept, notice].map((one) => toldResult(one, run)),
    {},
  );
};

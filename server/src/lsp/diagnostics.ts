import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver';
import type { Finding, Gap, Level } from '../rulebook/finding.ts';
import type { Span } from '../text/span.ts';
import { sayTimeAndUtc } from '../units/calendar.ts';
import { sayList } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { rangeOf } from './convert.ts';
import type { Judgement } from './judgement.ts';

const SOURCE = 'waywarden';

/** VS Code shows no more than 1,000 diagnostics of a file; the last one of ours tells how many are left. */
const MOST = 1000;

const SEVERITY: Readonly<Record<Level, DiagnosticSeverity>> = {
  stop: DiagnosticSeverity.Error,
  caution: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};

const TOP: Diagnostic['range'] = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

/** Where something stands in the document that is shown: itself, or the reference to the document that it stands in. */
export const spanHere = (at: Span, judgement: Judgement): Span => {
  const { document, input, places } = judgement;
  if (at.anchor.document === document.location || input === undefined || places === undefined) return at;
  const { aircraft } = input.world;
  const inAircraft = !isMissing(aircraft) && aircraft.document === at.anchor.document;
  return inAircraft && places.aircraft !== undefined ? places.aircraft : places.title;
};

const ofFinding = (finding: Finding, judgement: Judgement, uriOf: (location: string) => string): Diagnostic => {
  const at = spanHere(finding.at, judgement);
  const elsewhere = at === finding.at ? [] : [{ at: finding.at, message: 'it stands here' }];
  const related = [...elsewhere, ...(finding.related ?? [])].map((remark) => ({
    location: { uri: uriOf(remark.at.anchor.document), range: rangeOf(remark.at, judgement.lines) },
    message: remark.message,
  }));
  return {
    range: rangeOf(at, judgement.lines),
    severity: SEVERITY[finding.level],
    source: SOURCE,
    code: finding.rule,
    message: finding.message,
    data: { fingerprint: finding.fingerprint },
    ...(related.length === 0 ? {} : { relatedInformation: related }),
  };
};

/** Gaps with one reason are shown once, at the first place, with the rules that wait for it. */
const joined = (gaps: readonly Gap[]): readonly (readonly Gap[])[] => {
  const groups = new Map<string, Gap[]>();
  for (const gap of gaps) {
    const key = `${gap.kind} ${gap.due ?? ''} ${gap.reason}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [gap]);
    else group.push(gap);
  }
  return [...groups.values()];
};

const ofGaps = (gaps: readonly Gap[], judgement: Judgement): Diagnostic | undefined => {
  const [first] = gaps;
  if (first === undefined) return undefined;
  const rules = [...new Set(gaps.map((gap) => gap.rule))];
  const offsetMinutes = judgement.input?.plan.window?.from?.value.offsetMinutes ?? 0;
  const due = first.due === undefined ? '' : `, due from ${sayTimeAndUtc({ at: first.due, offsetMinutes })}`;
  const waiting = rules.length > 1 ? ` (${rules.length} rules wait for it: ${sayList(rules)})` : '';
  const severity =
    first.kind === 'fault'
      ? DiagnosticSeverity.Error
      : first.kind === 'not-yet'
        ? DiagnosticSeverity.Hint
        : DiagnosticSeverity.Information;
  return {
    range: rangeOf(spanHere(first.at, judgement), judgement.lines),
    severity,
    source: SOURCE,
    code: first.rule,
    message: `not assessed${due}: ${first.reason}${waiting}`,
  };
};

/** Said about the document as a whole, at its top. */
export const remarkAtTop = (message: string, severity: DiagnosticSeverity): Diagnostic => ({
  range: TOP,
  severity,
  source: SOURCE,
  message,
});

/** All that the client shows of a judgement: findings and gaps, worst first. */
export const diagnosticsOf = (
  judgement: Judgement,
  uriOf: (location: string) => string,
  pageOf?: (rule: string) => string,
): readonly Diagnostic[] => {
  if (judgement.fault !== undefined) {
    const first = judgement.fault.split('\n')[0] ?? '';
    return [
      remarkAtTop(
        `nothing was assessed: this program failed, which is no fault of the document; please report it: ${first}`,
        DiagnosticSeverity.Error,
      ),
    ];
  }
  const all = [
    ...judgement.findings.map((finding) => ofFinding(finding, judgement, uriOf)),
    ...joined(judgement.gaps).flatMap((gaps) => ofGaps(gaps, judgement) ?? []),
  ]
    .sort((one, other) => (one.severity ?? 4) - (other.severity ?? 4))
    .map((each) => (pageOf === undefined ? each : { ...each, codeDescription: { href: pageOf(String(each.code)) } }));
  if (all.length <= MOST) return all;
  const shown = all.slice(0, MOST - 1);
  const left = all.length - shown.length;
  return [
    ...shown,
    remarkAtTop(
      `${left} more are not shown here; "waywarden check" on the command line shows them all`,
      DiagnosticSeverity.Warning,
    ),
  ];
};

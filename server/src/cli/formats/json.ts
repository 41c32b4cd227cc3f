import { ageAt } from '../../facts/data-age.ts';
import type { Review } from '../../review/outcome.ts';
import { byLevel, type Finding, type Gap, type Level, type MarginHere } from '../../rulebook/finding.ts';
import type { Span } from '../../text/span.ts';
import { sayRfc3339 } from '../../units/calendar.ts';
import type { Provenance } from '../../world/world.ts';
import { type BaselineHere, type Checked, type Run, rangeOf } from '../checked.ts';
import { shownPath } from '../shown-path.ts';

/**
 * The report for machines; its shape is schemas/report.schema.json. Numbers are rounded to 1e-6 of their unit (1e-9 for
 * degrees), so that every JavaScript engine prints the same.
 */
export const round = (value: number, digits = 6): number => Number(value.toFixed(digits));

export const measure = <T extends { readonly value: number }>(one: T): T => ({ ...one, value: round(one.value) });

export const worst = (review: Review): Level | null => {
  const levels = review.findings.map((finding) => finding.level).sort(byLevel);
  return levels[0] ?? null;
};

/** Days from when a source was retrieved to the beginning of the flight, where both are known. */
const ageOf = (source: Provenance, { plan }: Review): { readonly ageDays?: number } => {
  const from = plan.window?.from?.value.at;
  const age = from === undefined ? undefined : ageAt(source, from);
  return age === undefined ? {} : { ageDays: round(age, 1) };
};

const baselineMember = ({ file, entries, stale, unknown }: BaselineHere) => ({
  file: shownPath(file),
  entries,
  stale,
  unknown,
});

export const jsonReport = (run: Run) => {
  const plans = run.checked.map((checked) => planReport(checked, run));
  const sum = (of: (plan: (typeof plans)[number]) => number): number =>
    plans.reduce((total, plan) => total + of(plan), 0);
  const level = (wanted: Level) => sum((plan) => plan.findings.filter((finding) => finding.level === wanted).length);
  return {
    format: 1,
    waywarden: run.version,
    now: sayRfc3339(run.now),
    plans,
    unopened: run.unopened,
    ...(run.unaffected === undefined ? {} : { unaffected: run.unaffected }),
    ...(run.baseline === undefined ? {} : { baseline: baselineMember(run.baseline) }),
    totals: {
      plans: plans.length,
      stop: level('stop'),
      caution: level('caution'),
      note: level('note'),
      accepted: sum((plan) => plan.accepted.length),
      lifted: sum((plan) => plan.lifted.length),
      gaps: sum((plan) => plan.gaps.length),
    },
  };
};

export type JsonReport = ReturnType<typeof jsonReport>;

/** What a terminal could take for a command, or hide, as escapes of JSON; the values stay the same. */
const HIDDEN = /[\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/g;

const visible = (json: string): string =>
  json.replace(HIDDEN, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);

export const jsonText = (value: unknown): string => `${visible(JSON.stringify(value, null, 2))}\n`;

/** The same on one line, without a line break. */
export const jsonLine = (value: unknown): string => visible(JSON.stringify(value));

/** The member `place`, where there is one. */
export const place = (where: Finding['place']) =>
  where === undefined
    ? {}
    : {
        place: {
          lat: round(where.at.lat, 9),
          lon: round(where.at.lon, 9),
          ...(where.alongM === undefined ? {} : { alongM: round(where.alongM) }),
          ...(where.altitudeAmslM === undefined ? {} : { altitudeAmslM: round(where.altitudeAmslM) }),
          ...(where.time === undefined ? {} : { time: sayRfc3339(where.time) }),
        },
      };

const planReport = (checked: Checked, run: Run) => {
  const { path, review, lines, stress } = checked;
  const known = (one: Finding | Gap) => (run.baseline?.covers(checked, one) === true ? { inBaseline: true } : {});
  const range = (span: Span) => rangeOf(span, lines);
  const elsewhere = (span: Span) =>
    span.anchor.document === review.plan.document ? {} : { path: shownPath(span.anchor.document) };
  const finding = (found: Finding) => ({
    rule: found.rule,
    level: found.level,
    message: found.message,
    range: range(found.at),
    subject: found.subject,
    count: found.count,
    ...place(found.place),
    ...(found.intervals === undefined
      ? {}
      : {
          intervals: found.intervals.map((one) => ({
            fromAlongM: round(one.fromAlongM),
            toAlongM: round(one.toAlongM),
          })),
        }),
    ...(found.related === undefined || found.related.length === 0
      ? {}
      : {
          related: found.related.map((one) => ({ range: range(one.at), ...elsewhere(one.at), message: one.message })),
        }),
    ...(found.cause === undefined ? {} : { cause: found.cause.name }),
    ...(found.measured === undefined ? {} : { measured: measure(found.measured) }),
    ...(found.limit === undefined ? {} : { limit: measure(found.limit) }),
    sources: found.sources,
    fingerprint: found.fingerprint,
    fixes: (found.fixes ?? []).map(({ title, effect }) => ({ title, effect })),
  });
  const gap = (one: Gap) => ({
    rule: one.rule,
    level: one.level,
    kind: one.kind,
    ...(one.due === undefined ? {} : { due: sayRfc3339(one.due) }),
    range: range(one.at),
    subject: one.subject,
    reason: one.reason,
    count: one.count,
    ...known(one),
  });
  const margin = (one: MarginHere & { readonly rule: string }) => ({
    rule: one.rule,
    subject: one.subject,
    range: range(one.at),
    measured: measure(one.measured),
    limit: measure(one.limit),
    room: round(one.room),
    ...(one.error === undefined ? {} : { error: round(one.error) }),
    ...place(one.place),
  });
  return {
    path,
    title: review.plan.title?.value ?? null,
    ruleSet: review.ruleSet ?? null,
    worst: worst(review),
    complete: review.complete,
    checks: review.checks,
    findings: review.findings.map((found) => ({ ...finding(found), ...known(found) })),
    accepted: review.accepted.map((one) => ({
      ...finding(one.finding),
      by: { because: one.by.because?.value ?? '', range: range(one.by.span) },
    })),
    lifted: review.lifted.map((one) => ({
      ...finding(one.finding),
      by: { kind: one.by.kind, name: one.by.name, range: range(one.by.span) },
    })),
    gaps: review.gaps.map(gap),
    margins: review.margins.map(margin),
    owed: review.owed.map(({ kind, whom, rules, subjects, leadTime, by, late }) => ({
      kind,
      whom,
      rules,
      subjects,
      ...(leadTime === undefined ? {} : { leadDays: round(leadTime.value / 86_400, 3) }),
      ...(by === undefined ? {} : { by: sayRfc3339(by) }),
      late,
    })),
    data: review.data.map(({ passing: _, ...source }) => ({ ...source, ...ageOf(source, review) })),
    matrix: review.matrix,
    ...(stress === undefined
      ? {}
      : {
          stress: stress.map(({ what, most, first }) => ({
            what,
            most,
            first:
              first === undefined
                ? null
                : {
                    step: first.step,
                    of: first.of,
                    amount: first.amount,
                    findings: first.findings.map(({ rule, level, subject, message }) => ({
                      rule,
                      level,
                      subject,
                      message,
                    })),
                  },
          })),
        }),
  };
};

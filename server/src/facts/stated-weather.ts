import type { WeatherStation } from '../plan/weather.ts';
import type { Span } from '../text/span.ts';
import { type Instant, instant } from '../units/frames.ts';
import type { Change, Conditions, InReport, LoadedReport, WeatherReport } from '../world/weather-report.ts';
import { hoursNear, type TimeSpan, timeNear } from './report-times.ts';

/** Minutes from an observation within which it counts. Common practice, no source. */
export const OBSERVATION_MINUTES = 90;

const MINUTE = 60_000;

/** What can be asked of the weather. */
export type Quantity = keyof Conditions;
export type ValueOf<Q extends Quantity> = NonNullable<Conditions[Q]>['value'];

/** A value that holds in a part of the window, and who says so. */
export interface Stated<T> {
  readonly value: T;
  /** As the report or the plan has it: `M1/4SM`. */
  readonly written: string;
  /** "this plan", "METAR KZZU 141255Z", "TAF KZZU 141120Z (TEMPO 1412/1414)" */
  readonly by: string;
  readonly at: Span;
  /** Absent for values by hand. */
  readonly station?: WeatherStation;
}

/** Values of one report with the hours in which they hold. `steady` ones follow each other; `passing` ones come on top. */
export interface StatedHours<T> {
  readonly steady: readonly (Stated<T> & TimeSpan)[];
  readonly passing: readonly (Stated<T> & TimeSpan)[];
}

/** When a report was made: the time nearest to the window that has its day and hour. */
export const issuedAt = (report: WeatherReport, window: TimeSpan): Instant => timeNear(report.issued, window.from);

/** When an observation counts for a flight: made in its window, or at most so long before. */
export const observationCounts = (report: WeatherReport, window: TimeSpan): boolean => {
  const at = issuedAt(report, window);
  return at >= window.from - OBSERVATION_MINUTES * MINUTE && at <= window.until;
};

/** The hours a forecast speaks of. */
export const validHours = (report: WeatherReport, window: TimeSpan): TimeSpan | undefined =>
  report.valid && hoursNear(report.valid, issuedAt(report, window));

const endAt = <T extends TimeSpan>(entries: readonly T[], end: Instant): T[] =>
  entries
    .map((entry) => (entry.until > end ? { ...entry, until: end } : entry))
    .filter(({ from, until }) => until > from);

/** What a report says of one quantity, as read by `statedHours`. */
type Teller = <Q extends Quantity>(
  value: InReport<ValueOf<Q>>,
  hours: TimeSpan,
  change?: Change,
) => Stated<ValueOf<Q>> & TimeSpan;

/**
 * What a report says of one quantity and when, on the cautious side: a change that becomes counts beside what was before
 * until it is complete; one that comes and goes, or has a probability, counts in all its hours; hours that run backwards
 * are all of the forecast's. An observation counts from the beginning of the window for as long as it may be old.
 */
export const statedHours = <Q extends Quantity>(
  quantity: Q,
  loaded: LoadedReport,
  report: WeatherReport,
  station: WeatherStation,
  window: TimeSpan,
): StatedHours<ValueOf<Q>> => {
  const tell: Teller = ({ value, group }, hours, change) => ({
    value,
    written: group,
    by: change === undefined ? loaded.name : `${loaded.name} (${change.name})`,
    at: loaded.at,
    station,
    ...hours,
  });
  const base = report.base[quantity] as InReport<ValueOf<Q>> | undefined;
  if (report.kind === 'observation') {
    if (base === undefined || !observationCounts(report, window)) return { steady: [], passing: [] };
    const until = instant(window.from + OBSERVATION_MINUTES * MINUTE);
    return { steady: [tell<Q>(base, { from: window.from, until })], passing: [] };
  }
  const valid = validHours(report, window);
  if (valid === undefined) return { steady: [], passing: [] };
  let steady = base === undefined ? [] : [tell<Q>(base, valid)];
  const passing: (Stated<ValueOf<Q>> & TimeSpan)[] = [];
  for (const change of report.changes) {
    const hours = hoursNear(change.span, valid.from) ?? valid;
    const value = change.conditions[quantity] as InReport<ValueOf<Q>> | undefined;
    if (change.kind === 'from') steady = endAt(steady, hours.from);
    if (value === undefined) continue;
    if (change.kind === 'passing') passing.push(tell<Q>(value, hours, change));
    else {
      if (change.kind === 'becoming') steady = endAt(steady, hours.until);
      steady = [...steady, tell<Q>(value, { from: hours.from, until: valid.until }, change)];
    }
  }
  return { steady, passing };
};

export const meets = (one: TimeSpan, window: TimeSpan): boolean => one.from <= window.until && one.until > window.from;

/** Whether spans of time leave no part of a window out. */
export const cover = (spans: readonly TimeSpan[], window: TimeSpan): boolean => {
  let reached: number = window.from;
  for (const span of [...spans].sort((one, other) => one.from - other.from)) {
    if (span.from > reached) break;
    reached = Math.max(reached, span.until);
  }
  return reached >= window.until && spans.length > 0;
};

import type { Span } from '../text/span.ts';
import type { Celsius, Degrees, Metres, MetresPerSecond, Pascals } from '../units/frames.ts';

/** A weather report that a plan holds or refers to, decoded, or with the reason why it was refused. */
export interface LoadedReport {
  /** Where it stands in the plan: its own text, or the reference to its file. */
  readonly at: Span;
  /** How people call it: "METAR KZZU 141255Z". */
  readonly name: string;
  readonly report?: WeatherReport;
  /** Finishes the sentence "the report ...". */
  readonly refused?: string;
}

/** A METAR, SPECI or TAF. Days are of a month that no report names. */
export interface WeatherReport {
  readonly kind: 'observation' | 'forecast';
  readonly station: string;
  readonly issued: DayTime;
  readonly base: Conditions;
  /** Hours that a forecast speaks of. */
  readonly valid?: DaySpan;
  readonly changes: readonly Change[];
  /** Groups that were not understood, or that say that something was not measured. */
  readonly unread: readonly UnreadGroup[];
}

export interface UnreadGroup {
  readonly group: string;
  /** What it speaks of, by its form; `anything` where that does not tell. */
  readonly of: keyof Conditions | 'anything';
  /** `not measured`: its form is known, and it gives no number. */
  readonly why: 'not understood' | 'not measured';
}

export interface DayTime {
  readonly day: number;
  /** Minutes since 00:00 UTC; 1440 for 24:00. */
  readonly minutes: number;
}

export interface DaySpan {
  readonly from: DayTime;
  readonly until: DayTime;
}

export interface Change {
  /** `from`: all is new from a time on. `becoming`: changes during a span and stays. `passing`: comes and goes in it. */
  readonly kind: 'from' | 'becoming' | 'passing';
  /** "TEMPO 1412/1414" */
  readonly name: string;
  readonly span: DaySpan;
  readonly conditions: Conditions;
}

/** What a report states of the weather at one time. What it does not state, or not as a number, is absent. */
export interface Conditions {
  readonly wind?: InReport<ReportedWind>;
  readonly visibility?: InReport<VisibilityBounds>;
  readonly cloud?: InReport<CloudAbove>;
  readonly temperature?: InReport<Celsius>;
  readonly qnh?: InReport<Pascals>;
  /** Weather that no small aircraft is flown in, in words: "a thunderstorm". */
  readonly hazard?: InReport<string>;
}

/** A value and the group of the report that says it. */
export interface InReport<T> {
  readonly value: T;
  readonly group: string;
}

export interface ReportedWind {
  /** Where it blows from, clockwise from true north; absent where it varies or was not measured. */
  readonly from?: Degrees;
  readonly speed: MetresPerSecond;
  readonly gust?: MetresPerSecond;
}

/** `9999` is at least 10 km, `P6SM` at least 6 miles, `M1/4SM` at most a quarter; a plain number is both. */
export interface VisibilityBounds {
  readonly least: Metres;
  readonly most?: Metres;
}

/** Height above the station: of the lowest cloud, or below which there is none. */
export interface CloudAbove {
  readonly kind: 'cloud' | 'none below';
  readonly height: Metres;
}

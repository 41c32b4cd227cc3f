import type { Finding, Gap } from '../rulebook/finding.ts';
import { type Instant, instant } from '../units/frames.ts';
import { alike } from './alike.ts';
import { Memory } from './memory.ts';
import { takenOffAt } from './moved-plan.ts';
import type { Review } from './outcome.ts';
import { type ReviewInput, reviewSteps } from './review.ts';

/** Take-off times that a review judges alike. */
export interface TakeOffSpan {
  /** The first minute, and the last. */
  readonly from: Instant;
  readonly until: Instant;
  /** What forbids to take off then, as of the first minute; empty where no stop is found. */
  readonly stops: readonly Stopped[];
  /** Rules that could not be judged, by name. */
  readonly notAssessed: readonly string[];
}

export interface Stopped {
  readonly rule: string;
  readonly subject: string;
  readonly message: string;
}

const MINUTE = 60_000;

const stopOf = ({ rule, subject, message }: Finding): Stopped => ({ rule, subject, message });

/** The findings that forbid to fly. */
export const stopsOf = (review: Review): readonly Stopped[] =>
  review.findings.filter(({ level }) => level === 'stop').map(stopOf);

const unjudged = (gaps: readonly Gap[]): readonly string[] => [...new Set(gaps.map(({ rule }) => rule))].sort();

const namesOf = (stops: readonly Stopped[]): readonly (readonly string[])[] =>
  stops.map(({ rule, subject }) => [rule, subject]);

/**
 * For every minute of a stretch of time: what a check of the plan says that is made in that minute, with the window moved
 * so that it begins then and lasts as long. Minutes in which the same stops are found, at the same subjects, and the same
 * rules are not assessed, are one span; the spans fill the stretch. Nothing is guessed between the minutes: each is
 * judged, which the memory makes cheap. Undefined where the plan gives no window.
 */
export function* takeOffTimes(
  input: ReviewInput,
  from: Instant,
  until: Instant,
): Generator<void, readonly TakeOffSpan[] | undefined> {
  const memory = new Memory();
  const spans: TakeOffSpan[] = [];
  for (let at = from; at < until; at = instant(at + MINUTE)) {
    const plan = takenOffAt(input.plan, at);
    if (plan === undefined || plan.window?.until === undefined) return undefined;
    const review = yield* reviewSteps({ ...input, plan, now: at }, memory);
    const stops = stopsOf(review);
    const notAssessed = unjudged(review.gaps);
    const last = spans.at(-1);
    if (last !== undefined && alike(namesOf(last.stops), namesOf(stops)) && alike(last.notAssessed, notAssessed)) {
      spans[spans.length - 1] = { ...last, until: at };
    } else spans.push({ from: at, until: at, stops, notAssessed });
  }
  return spans;
}

import { CodeActionKind } from 'vscode-languageserver';
import type { Plan, Window } from '../../plan/model.ts';
import { endOf, type Span, startOf } from '../../text/span.ts';
import { type CalendarDate, dateAt, dateOfDays, daysBetween, daysSince1970, sayDate } from '../../units/calendar.ts';
import type { Instant } from '../../units/frames.ts';
import { sayCount } from '../../units/say.ts';
import type { OpenDocument } from '../documents.ts';
import { type BlankEdit, inSnippet, type Offer } from './offer.ts';

const later = (date: CalendarDate, days: number): CalendarDate => dateOfDays(daysSince1970(date) + days);

const DATE = /(\d{4})-(\d{2})-(\d{2})/;

/** The ends of a window, each so many days later by the calendar; the clock and its offset stay as written. */
const moved = (window: Window | undefined, days: number, text: string): readonly BlankEdit[] =>
  [window?.from, window?.until].flatMap((end): readonly BlankEdit[] => {
    if (end === undefined) return [];
    const [from, to] = [startOf(end.span), endOf(end.span)];
    const date = DATE.exec(text.slice(from, to));
    if (date === null) return [];
    const [written, year, month, day] = date;
    const then = later({ year: Number(year), month: Number(month), day: Number(day) }, days);
    const at = from + date.index;
    return [{ from: at, to: at + written.length, text: sayDate(then) }];
  });

/** Where the plan says when somebody looked: each is to be looked at anew. */
const looks = (plan: Plan): readonly Span[] => {
  const { people, obstacles, restrictions, weather, preflight } = plan;
  const seen = [
    people?.seen,
    obstacles?.kind === 'statement' ? obstacles.seen : undefined,
    restrictions?.kind === 'statement' ? restrictions.seen : restrictions?.retrieved,
    weather.seen,
    ...preflight.map((statement) => statement.seen),
  ];
  return seen.flatMap((each) => each?.span ?? []).sort((one, other) => startOf(one) - startOf(other));
};

/** The whole line of `flown`, which makes a plan history. */
const flownLine = ({ flown }: Plan, text: string): readonly BlankEdit[] => {
  if (flown === undefined) return [];
  const from = text.lastIndexOf('\n', startOf(flown.span)) + 1;
  const next = text.indexOf('\n', endOf(flown.span));
  const line = text.slice(from, next === -1 ? text.length : next + 1);
  return /^[ \t]*flown[ \t]*:/.test(line) ? [{ from, to: from + line.length, text: '' }] : [];
};

const ABOUT_DAYS: ReadonlySet<string> = new Set([
  'window-over',
  'plan-reused',
  'weather-of-another-day',
  'statement-dated-ahead',
  'flown-in-future',
]);

/**
 * "Fly again on a new date": the window moves to the day after the check, at the same times of day, and the cursor stops at
 * every look that is to be taken anew. Those dates stay as they are until a person writes another: nobody has looked yet.
 */
export const offerNewDate = (
  document: OpenDocument,
  plan: Plan,
  now: Instant,
  rules: readonly string[],
  isAtWindow: boolean,
): readonly Offer[] => {
  const from = plan.window?.from?.value;
  if (from === undefined || !(isAtWindow || rules.some((rule) => ABOUT_DAYS.has(rule)))) return [];
  const { text } = document;
  const day = later(dateAt(now, from.offsetMinutes), 1);
  const days = daysBetween(dateAt(from.at, from.offsetMinutes), day);
  if (days === 0) return [];
  const windows = [plan.window, ...plan.items.map(({ window }) => window)];
  const stops = looks(plan).map((span, i) => {
    const [start, end] = [startOf(span), endOf(span)];
    return { from: start, to: end, text: `\${${i + 1}:${inSnippet(text.slice(start, end))}}` };
  });
  const edits = [...windows.flatMap((window) => moved(window, days, text)), ...flownLine(plan, text), ...stops];
  const looking = stops.length === 0 ? '' : `, and stop at ${sayCount(stops.length, 'date')} of looks to be taken anew`;
  return [
    { title: `Fly again on ${sayDate(day)}: move the window${looking}`, kind: CodeActionKind.RefactorRewrite, edits },
  ];
};

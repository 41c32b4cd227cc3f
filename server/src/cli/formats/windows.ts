import type { Stopped, TakeOffSpan } from '../../review/take-off-times.ts';
import { type CalendarDate, sayDate, sayOffset, sayRfc3339, sayTime } from '../../units/calendar.ts';
import type { Instant } from '../../units/frames.ts';
import { sayCount, sayNumber } from '../../units/say.ts';
import { plain } from '../terminal.ts';

/** The take-off times of a plan on one day. */
export interface TakeOffDay {
  readonly path: string;
  readonly title: string;
  readonly date: CalendarDate;
  readonly offsetMinutes: number;
  readonly lastsMinutes: number;
  /** They fill the day. */
  readonly spans: readonly TakeOffSpan[];
}

/** The stops of one span that another, beside it, does not have: what changes at the edge between them. */
const onlyIn = (span: TakeOffSpan | undefined, other: TakeOffSpan): readonly Stopped[] =>
  (span?.stops ?? []).filter(
    (stop) => !other.stops.some(({ rule, subject }) => rule === stop.rule && subject === stop.subject),
  );

const clock = (at: Instant, offsetMinutes: number): string => sayTime({ at, offsetMinutes }).slice(11, 16);

const sayStops = (stops: readonly Stopped[]): string => {
  const [first] = stops;
  if (first === undefined) return '';
  return `${first.rule}: ${plain(first.message)}${stops.length > 1 ? ` (and ${stops.length - 1} more)` : ''}`;
};

const sayGaps = ({ notAssessed }: TakeOffSpan): string =>
  notAssessed.length === 0 ? '' : `; ${sayCount(notAssessed.length, 'rule')} not assessed`;

const isSame = (one: TakeOffSpan, other: TakeOffSpan): boolean =>
  onlyIn(one, other).length === 0 && onlyIn(other, one).length === 0;

/** Where one cannot take off, it does not matter to a reader what else is not assessed then. */
const toTell = (spans: readonly TakeOffSpan[]): readonly TakeOffSpan[] => {
  const told: TakeOffSpan[] = [];
  for (const span of spans) {
    const last = told.at(-1);
    if (last !== undefined && last.stops.length > 0 && isSame(last, span)) {
      told[told.length - 1] = { ...last, until: span.until };
    } else told.push(span);
  }
  return told;
};

export const windowsText = ({ path, title, date, offsetMinutes, lastsMinutes, spans }: TakeOffDay): string => {
  const lines = [
    `${path}: ${plain(title)}`,
    `take-off times on ${sayDate(date)}, offset ${sayOffset(offsetMinutes)}, each for a window of ${sayNumber(lastsMinutes, 1)} min`,
    '',
  ];
  const told = toTell(spans);
  told.forEach((span, i) => {
    const times = `${clock(span.from, offsetMinutes)} to ${clock(span.until, offsetMinutes)}`;
    if (span.stops.length > 0) {
      lines.push(`  ${times}  stop: ${sayStops(span.stops)}`);
      return;
    }
    lines.push(`  ${times}  no stop found${sayGaps(span)}`);
    const [before, after] = [onlyIn(told[i - 1], span), onlyIn(told[i + 1], span)];
    if (before.length > 0) lines.push(`                  earlier: ${sayStops(before)}`);
    if (after.length > 0) lines.push(`                  later: ${sayStops(after)}`);
  });
  lines.push('', 'Judged minute by minute, each as of itself. The remote pilot decides; the rules in force hold.', '');
  return lines.join('\n');
};

/** The same for machines; its shape is schemas/windows.schema.json. */
export const windowsReport = (day: TakeOffDay, version: string) => ({
  format: 1,
  waywarden: version,
  path: day.path,
  title: day.title,
  day: sayDate(day.date),
  offsetMinutes: day.offsetMinutes,
  lastsMinutes: Number(day.lastsMinutes.toFixed(6)),
  spans: day.spans.map((span, i) => ({
    from: sayRfc3339(span.from),
    until: sayRfc3339(span.until),
    stops: span.stops,
    notAssessed: span.notAssessed,
    edges: { earlier: onlyIn(day.spans[i - 1], span), later: onlyIn(day.spans[i + 1], span) },
  })),
});

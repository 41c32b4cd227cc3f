import { areaHeight } from '../../facts/area-height.ts';
import type { FactTools } from '../../facts/fact.ts';
import { farPlaces } from '../../facts/farthest-from-watchers.ts';
import { flownLegs } from '../../facts/flown-legs.ts';
import { orLacking } from '../../facts/lacking.ts';
import { legHeight } from '../../facts/leg-height.ts';
import { timeline } from '../../facts/timeline.ts';
import type { Flight } from '../../plan/model.ts';
import type { Margin, Review } from '../../review/outcome.ts';
import { type Level, worseLevel } from '../../rulebook/finding.ts';
import { metres } from '../../units/frames.ts';
import { decimalsToTell, sayCount, sayDistance, sayNumber } from '../../units/say.ts';
import type { Judgement } from '../judgement.ts';

/** How a plan stands, in numbers. */
export interface Standing {
  readonly worst: Level | undefined;
  readonly stop: number;
  readonly caution: number;
  readonly note: number;
  /** Checks that gave no answer at all, and that gave one for a part of the plan only. */
  readonly notAssessed: number;
  readonly inPart: number;
  readonly checks: number;
}

export const standingOf = ({ findings, gaps, review }: Pick<Judgement, 'findings' | 'gaps' | 'review'>): Standing => {
  const count = (level: Level): number => findings.filter((finding) => finding.level === level).length;
  const states = new Map((review?.matrix ?? []).map(({ rule, state }) => [rule, state]));
  const wholly = [...states.values()].filter((state) => state === 'not-assessed').length;
  const waiting = [...new Set(gaps.map(({ rule }) => rule))];
  return {
    worst: findings.reduce<Level | undefined>(
      (worst, { level }) => (worst === undefined ? level : worseLevel(worst, level)),
      undefined,
    ),
    stop: count('stop'),
    caution: count('caution'),
    note: count('note'),
    notAssessed: wholly,
    inPart: waiting.filter((rule) => states.get(rule) !== 'not-assessed').length,
    checks: review?.checks ?? 0,
  };
};

/** `2 stop, 1 caution; 3 not assessed`, `nothing found in 112 checks; 3 not assessed` */
export const sayStanding = ({ stop, caution, note, notAssessed, inPart, checks }: Standing): string => {
  const found = [
    ...(stop === 0 ? [] : [`${stop} stop`]),
    ...(caution === 0 ? [] : [sayCount(caution, 'caution')]),
    ...(note === 0 ? [] : [sayCount(note, 'note')]),
  ];
  const said = found.length === 0 ? `nothing found in ${sayCount(checks, 'check')}` : found.join(', ');
  return `${said}; ${notAssessed} not assessed${inPart === 0 ? '' : `, ${inPart} in part`}`;
};

/** What is lacking for any part makes the whole a bound only; what is lacking for all of it makes no total at all. */
const total = <T>(
  parts: readonly T[],
  derive: (part: T) => readonly number[],
): { readonly value?: number; readonly isWhole: boolean } => {
  let value: number | undefined;
  let isWhole = true;
  for (const part of parts) {
    const answer = orLacking(() => derive(part));
    if ('missing' in answer) isWhole = false;
    else for (const each of answer.known) value = value === undefined ? each : Math.max(value, each);
  }
  return { ...(value === undefined ? {} : { value }), isWhole };
};

const sayTotal = (
  name: string,
  { value, isWhole }: { readonly value?: number; readonly isWhole: boolean },
  say: (value: number) => string,
): string => (value === undefined ? `${name} not assessed` : `${name} ${isWhole ? '' : 'at least '}${say(value)}`);

const sayDuration = (flights: readonly Flight[], tools: FactTools): string => {
  const times = flights.map((flight) => orLacking(() => tools.ask(timeline, flight)));
  if (times.length === 0 || times.every((each) => 'missing' in each)) return 'duration not assessed';
  let [shortest, longest] = [0, 0];
  for (const each of times) {
    shortest += 'known' in each ? each.known.shortest : 0;
    longest += 'known' in each ? each.known.longest : Number.POSITIVE_INFINITY;
  }
  const minutes = (seconds: number): string => sayNumber(seconds / 60, seconds < 600 ? 1 : 0);
  if (!Number.isFinite(longest)) return `in the air at least ${minutes(shortest)} min`;
  const [least, most] = [minutes(shortest), minutes(longest)];
  return `in the air ${least === most ? most : `${least} to ${most}`} min`;
};

const sayHighest = (flights: readonly Flight[], tools: FactTools): string => {
  const legs = total(
    flights.flatMap((flight) => tools.ask(flownLegs, flight)),
    (leg) => [tools.ask(legHeight, leg).greatest.value],
  );
  const areas = total(
    flights.flatMap(({ items }) => items.filter(({ kind }) => kind === 'area')),
    (item) => [tools.ask(areaHeight, item).greatest.value],
  );
  const values = [legs.value, areas.value].filter((value) => value !== undefined);
  const both = {
    ...(values.length === 0 ? {} : { value: Math.max(...values) }),
    isWhole: legs.isWhole && areas.isWhole,
  };
  return sayTotal('highest', both, (value) => `${sayNumber(value)} m above ground`);
};

const sayFarthest = (flights: readonly Flight[], tools: FactTools): string => {
  const pilots = flights.map((flight) => orLacking(() => tools.ask(farPlaces, flight)));
  const ranges = pilots.flatMap((each) => ('known' in each ? each.known.places : [])).flatMap(({ ranges: all }) => all);
  const own = ranges.filter(({ watcher }) => watcher.member.role === 'pilot').map(({ range }) => range);
  const isWhole = pilots.every((each) => 'known' in each && each.known.lacking.length === 0);
  const farthest = {
    ...(own.length === 0 ? {} : { value: own.reduce((most, range) => metres(Math.max(most, range))) }),
    isWhole,
  };
  return sayTotal('farthest from the pilot', farthest, sayDistance);
};

const MARGINS_SHOWN = 2;

/** `tightest: leg home to ridge, 60.4 of 121.92 m above ground` */
const sayMargin = ({ subject, measured, limit }: Margin): string => {
  const value = sayNumber(measured.value, decimalsToTell(measured.value, limit.value));
  const frame = measured.frame === undefined ? '' : ` ${measured.frame}`;
  return `tightest: ${subject}, ${value} of ${sayNumber(limit.value, 2)} ${measured.unit}${frame}`;
};

const sayMargins = ({ margins }: Review): readonly string[] => margins.slice(0, MARGINS_SHOWN).map(sayMargin);

/** The lines that stand above a plan's title, the most urgent first. */
export const totalsOf = (judgement: Judgement): readonly string[] => {
  const { input, tools, review } = judgement;
  if (input === undefined || tools === undefined || review === undefined) return [];
  const standing = standingOf(judgement);
  const { flights } = input.plan;
  return [
    standing.worst === undefined ? sayStanding(standing) : `${standing.worst}: ${sayStanding(standing)}`,
    sayDuration(flights, tools),
    sayHighest(flights, tools),
    sayFarthest(flights, tools),
    ...sayMargins(review),
  ];
};

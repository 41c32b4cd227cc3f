import { ageAt } from '../facts/data-age.ts';
import { given, NotAssessed } from '../facts/fact.ts';
import { type SourceKind, sourceReferences, sourcesBehind } from '../facts/sources-of-plan.ts';
import type { Amount, Plan } from '../plan/model.ts';
import type { HouseLimit } from '../plan/settings.ts';
import { lastsLongerThan } from '../units/exceeds.ts';
import { type Instant, instant, seconds } from '../units/frames.ts';
import { decimalsToTell, sayCount, sayNumber } from '../units/say.ts';
import type { Provenance } from '../world/world.ts';
import type { Judgement } from './finding.ts';
import { HOUSE, sayReason } from './house.ts';
import type { RuleTools } from './rule.ts';

const DAY = 86_400;

/** How old files of one kind may be when the flight begins. */
export interface AgeLimit {
  readonly kind: SourceKind;
  /** As messages name a file of the kind: "airspace", "obstacle file". */
  readonly noun: string;
  /** Days by common practice; absent where there is none, and then only the house's limit is judged. */
  readonly days?: number;
  readonly house: HouseLimit<Amount<number>> | undefined;
}

/** "56.4 days"; "more than 56 days" where even the decimals do not tell it from the limit. */
const sayAge = (age: number, most: number): string => {
  const said = sayNumber(age, decimalsToTell(age, most));
  return `${said === sayNumber(most, 4) ? 'more than ' : ''}${sayCount(Number(said), 'day')}`;
};

interface Aged {
  readonly source: Provenance;
  readonly age: number | undefined;
}

/** Of the tiles of a folder the one that counts: one of unknown age, else the oldest. */
const oldest = (sources: readonly Provenance[], at: Instant): Aged | undefined =>
  sources
    .map((source): Aged => ({ source, age: ageAt(source, at) }))
    .reduce<Aged | undefined>(
      (worst, one) =>
        worst === undefined || (worst.age !== undefined && (one.age ?? Number.POSITIVE_INFINITY) > worst.age)
          ? one
          : worst,
      undefined,
    );

/**
 * Files of a kind that will be too old when the flight begins. While a fresh one could not be had yet that is a gap with
 * its due time. A file that does not say when it was retrieved, and of which the plan does not say it either, is a gap:
 * the time that a disk shows for it is that of the copy.
 */
export function* judgeAge(plan: Plan, limit: AgeLimit, { world, now }: RuleTools): Generator<Judgement> {
  const { kind, noun, house } = limit;
  const most = house === undefined ? limit.days : house.value.value / DAY;
  if (most === undefined) return;
  const setBy = house === undefined ? 'common practice' : HOUSE;
  let open: { readonly reason: string; readonly due?: Instant } | undefined;
  for (const { reference } of sourceReferences(plan).filter((each) => each.kind === kind)) {
    // A file that could not be opened is told on its reference, and has no source here.
    const sources = sourcesBehind(reference.value, world);
    if (sources.length === 0) continue;
    const from = given(plan.window?.from, 'the beginning of the window').value;
    const worst = oldest(sources, from.at);
    if (worst === undefined) continue;
    const { source, age } = worst;
    if (age === undefined) {
      // What is wrong with the file is told on its reference; it may be what keeps its age from being read.
      if (world.problems.has(reference.value)) continue;
      open ??= {
        reason: `nobody says when ${noun} "${source.name}" was retrieved: neither the file (retrieved) nor the plan ({ file: ..., retrieved: ... })`,
      };
      continue;
    }
    if (!lastsLongerThan(seconds(age * DAY), seconds(most * DAY))) continue;
    const days = sayAge(age, most);
    const allowed = `${setBy} takes at most ${sayCount(most, 'day')}${sayReason(house)}`;
    const due = instant(from.at - most * DAY * 1000);
    if (now < due) {
      open ??= { reason: `${noun} "${source.name}" will be ${days} old at take-off; ${allowed}`, due };
      continue;
    }
    yield {
      found: {
        at: reference.span,
        subject: `${noun} ${source.name}`,
        message: `${noun} "${source.name}" (edition ${source.edition}) will be ${days} old at take-off; ${allowed}`,
        measured: { value: age, unit: 'days' },
        limit: { value: most, unit: 'days', setBy },
        ...(house === undefined ? {} : { related: [{ at: house.span, message: 'the house set the limit here' }] }),
      },
    };
  }
  if (open !== undefined) throw new NotAssessed(open.reason, open.due);
}

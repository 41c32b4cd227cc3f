import { type CloudBase, cloudByHand, reportedCloudBases } from '../facts/cloud-bases.ts';
import type { FactTools } from '../facts/fact.ts';
import type { Stated } from '../facts/stated-weather.ts';
import { reportedInWindow } from '../facts/weather-in-window.ts';
import type { Plan } from '../plan/model.ts';
import { isNoCloud } from '../plan/weather.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { metresPerSecond } from '../units/frames.ts';
import { decimalsToTell, sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { ReportedWind, VisibilityBounds } from '../world/weather-report.ts';

const SET_BY = 'common practice';
const PRACTICE = 'common practice does not plan with better weather than is reported';

const strongest = ({ speed, gust }: ReportedWind): number => Math.max(speed, gust ?? 0);

/** The worst of some stated values, by a number that is larger where it is worse. */
const worstOf = <T>(values: readonly Stated<T>[], badness: (value: T) => number): Stated<T> | undefined =>
  [...values].sort((one, other) => badness(other.value) - badness(one.value))[0];

const windIsBetter = (plan: Plan, tools: FactTools): Complaint | undefined => {
  const { wind } = plan.weather;
  const reported = worstOf(reportedInWindow('wind', plan, tools).values, strongest);
  if (wind?.speed === undefined || reported === undefined) return undefined;
  const written = wind.gust !== undefined && wind.gust.value > wind.speed.value ? wind.gust : wind.speed;
  const most = metresPerSecond(strongest(reported.value));
  if (!exceeds(most, written.value)) return undefined;
  const decimals = decimalsToTell(most, written.value);
  return {
    at: written.span,
    subject: 'the wind',
    message: `the plan has a wind of at most ${sayNumber(written.value, decimals)} m/s, and ${reported.by} gives ${sayNumber(most, decimals)} m/s ("${reported.written}"); ${PRACTICE}`,
    measured: { value: most, unit: 'm/s' },
    limit: { value: written.value, unit: 'm/s', setBy: SET_BY },
    related: [{ at: reported.at, message: 'the report stands here' }],
  };
};

const visibilityIsBetter = (plan: Plan, tools: FactTools): Complaint | undefined => {
  const { visibility } = plan.weather;
  const sure = (bounds: VisibilityBounds): number => -(bounds.most ?? Number.POSITIVE_INFINITY);
  const reported = worstOf(reportedInWindow('visibility', plan, tools).values, sure);
  const most = reported?.value.most;
  if (visibility === undefined || reported === undefined || most === undefined) return undefined;
  if (!exceeds(visibility.value, most)) return undefined;
  return {
    at: visibility.span,
    subject: 'the visibility',
    message: `the plan has a visibility of ${sayMetresAgainst(visibility.value, most)}, and ${reported.by} gives ${reported.value.least < most ? 'less than ' : ''}${sayMetresAgainst(most, visibility.value)} ("${reported.written}"); ${PRACTICE}`,
    measured: { value: visibility.value, unit: 'm' },
    limit: { value: most, unit: 'm', setBy: SET_BY },
    related: [{ at: reported.at, message: 'the report stands here' }],
  };
};

const cloudsAreBetter = (plan: Plan, tools: FactTools): Complaint | undefined => {
  const { cloudBase } = plan.weather;
  const [flight] = plan.flights;
  if (cloudBase === undefined || flight === undefined) return undefined;
  const clouds = reportedCloudBases(tools).bases.filter(({ value }) => value.kind === 'cloud');
  const reported = worstOf<CloudBase>(clouds, ({ base }) => -base);
  if (reported === undefined) return undefined;
  const lowest = reported.value.base;
  const written = isNoCloud(cloudBase) ? undefined : cloudByHand(cloudBase, flight, tools);
  if (written !== undefined && !exceeds(written, lowest)) return undefined;
  const has =
    written === undefined ? 'no cloud' : `a cloud base of ${sayMetresAgainst(written, lowest)} above mean sea level`;
  return {
    at: cloudBase.span,
    subject: 'the clouds',
    message: `the plan has ${has}, and ${reported.by} gives one at ${sayNumber(lowest)} m above mean sea level ("${reported.written}"); ${PRACTICE}`,
    ...(written !== undefined && {
      measured: { value: written, unit: 'm', frame: 'above sea' },
      limit: { value: lowest, unit: 'm', frame: 'above sea', setBy: SET_BY },
    }),
    related: [{ at: reported.at, message: 'the report stands here' }],
  };
};

export default defineRule({
  visits: 'plan',
  title: 'the plan has better weather than the reports',
  question: 'What weather?',
  level: 'caution',
  basis: 'practice',
  why: 'What is written by hand stands before a report, because the pilot on the spot sees more than a station far away. Written days before, it is a hope; the report is newer.',
  condition:
    'Where the plan has both, its wind or gust is not weaker, its visibility not larger and its cloud base not higher than the worst that the reports give for the window.',
  mend: 'Write what is seen on the spot, with `seen` and `by`, or take the value out so that the report counts.',
  sources: [{ cite: 'weather by hand beside reports', edition: '1', trust: 'common practice, no source' }],
  needs: ['weather'],
  example: {
    faulty:
      'weather:\n  wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }\n  visibility: 10 km\n  cloud-base: none\n  metar: KZZU 141255Z 24016KT 10SM SKC 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
    sound:
      'weather:\n  wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }\n  visibility: 10 km\n  cloud-base: none\n  metar: KZZU 141255Z 24006KT 10SM SKC 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
  },

  // What the reports lack is no gap here: then there is nothing to compare.
  *check(plan, tools) {
    if ((tools.world.reports ?? []).length === 0) return;
    for (const better of [windIsBetter, visibilityIsBetter, cloudsAreBetter]) {
      const found = better(plan, tools);
      if (found !== undefined) yield { found };
    }
  },
});

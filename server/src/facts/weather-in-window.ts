import type { Plan } from '../plan/model.ts';
import type { WeatherStation } from '../plan/weather.ts';
import { sayTimeAndUtc } from '../units/calendar.ts';
import { type Instant, instant } from '../units/frames.ts';
import type { LoadedReport, ReportedWind, VisibilityBounds, WeatherReport } from '../world/weather-report.ts';
import type { Missing } from '../world/world.ts';
import { lackingWeather } from './due.ts';
import { defineFact, type Fact, type FactTools, given } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import type { TimeSpan } from './report-times.ts';
import {
  cover,
  issuedAt,
  meets,
  OBSERVATION_MINUTES,
  observationCounts,
  type Quantity,
  type Stated,
  statedHours,
  type ValueOf,
  validHours,
} from './stated-weather.ts';
import { requireRead } from './unread.ts';

/** All that is said of one thing for the window of the flight; the worst of it counts. */
export interface InWindow<T> extends Partly {
  readonly values: readonly Stated<T>[];
}

const WORDS: Readonly<Record<Quantity, string>> = {
  wind: 'wind',
  visibility: 'visibility',
  cloud: 'cloud base',
  temperature: 'temperature',
  qnh: 'pressure (QNH)',
  hazard: 'dangerous weather',
};

/** Keys of the plan's weather that could have said it, by hand or in a report. */
const KEYS: Readonly<Record<Quantity, readonly string[]>> = {
  wind: ['wind'],
  visibility: ['visibility'],
  cloud: ['cloud-base'],
  temperature: ['temperature'],
  qnh: ['qnh'],
  hazard: [],
};
const REPORT_KEYS = ['metar', 'taf', 'reports'];

/** What stands in the plan's weather and could not be read is not called missing: that can be mended at once. */
const unreadByHand = (quantity: Quantity, plan: Plan): Missing | undefined => {
  for (const key of [...KEYS[quantity], ...REPORT_KEYS]) {
    const read = orLacking(() => requireRead(plan.slips, `weather ${key}`));
    if ('missing' in read) return read;
  }
  return undefined;
};

/** The station of a report, as the plan places it. */
export const stationOf = (report: WeatherReport, plan: Plan): WeatherStation | undefined =>
  plan.weather.stations?.find(({ code }) => code?.value.toUpperCase() === report.station);

/** The hours of a window that an observation speaks of. */
const observedHours = ({ from }: TimeSpan): TimeSpan => ({
  from,
  until: instant(from + OBSERVATION_MINUTES * 60_000),
});

const sayUtc = (at: Instant): string => sayTimeAndUtc({ at, offsetMinutes: 0 });

/** From when on an observation for the window can exist. */
const observationDue = (window: TimeSpan): Instant => instant(window.from - OBSERVATION_MINUTES * 60_000);

/** Why a report says nothing of a quantity for the window. */
const reasonOf = (quantity: Quantity, loaded: LoadedReport, plan: Plan, window: TimeSpan): Missing => {
  const { name, report } = loaded;
  if (report === undefined) return { missing: `the report "${name}" ${loaded.refused ?? 'could not be read'}` };
  if (stationOf(report, plan) === undefined) {
    return { missing: `the plan does not say where station ${report.station} lies, so ${name} does not count for it` };
  }
  if (report.kind === 'observation') {
    if (!observationCounts(report, window)) {
      const missing = `${name} was observed at ${sayUtc(issuedAt(report, window))}, not in the window of the flight or the ${OBSERVATION_MINUTES} min before it`;
      return { missing, due: observationDue(window) };
    }
    if (report.base[quantity] !== undefined) {
      return {
        missing: `${name} says nothing of the hours after ${sayUtc(instant(window.from + OBSERVATION_MINUTES * 60_000))}`,
      };
    }
  }
  const valid = validHours(report, window);
  if (valid !== undefined && !(valid.from <= window.from && valid.until >= window.until)) {
    return {
      missing: `${name} holds from ${sayUtc(valid.from)} until ${sayUtc(valid.until)}, not for the whole window`,
    };
  }
  return { missing: `${name} gives no ${WORDS[quantity]}` };
};

/** Whether a report says anything about the window at all. */
const speaksOf = (report: WeatherReport, window: TimeSpan): boolean => {
  if (report.kind === 'observation') return observationCounts(report, window);
  const valid = validHours(report, window);
  return valid !== undefined && meets(valid, window);
};

/** Whether the same station has a newer report of the same kind about the window: fog of an hour ago may have gone. */
const isSuperseded = (report: WeatherReport, all: readonly LoadedReport[], window: TimeSpan): boolean =>
  all.some(
    ({ report: other }) =>
      other !== undefined &&
      other.kind === report.kind &&
      other.station === report.station &&
      speaksOf(other, window) &&
      issuedAt(other, window) > issuedAt(report, window),
  );

/** Groups that may have said something worse. */
const unreadIn = (quantity: Quantity, loaded: LoadedReport): readonly Missing[] =>
  (loaded.report?.unread ?? [])
    .filter(({ of }) => of === quantity || of === 'anything')
    .map(({ group, why }) => ({
      missing:
        why === 'not measured'
          ? `"${group}" in ${loaded.name} says that it was not measured`
          : `"${group}" in ${loaded.name} was not understood`,
    }));

export const windowOf = (plan: Plan): TimeSpan => {
  const from = given(plan.window?.from, 'the beginning of the window').value.at;
  const until = given(plan.window?.until, 'the end of the window').value.at;
  return { from, until: instant(Math.max(from, until)) };
};

/** What the reports say, without the values by hand. */
export const reportedInWindow = <Q extends Quantity>(
  quantity: Q,
  plan: Plan,
  tools: FactTools,
): InWindow<ValueOf<Q>> => {
  const reports = tools.world.reports ?? [];
  if (reports.length === 0) {
    const unread = unreadByHand(quantity, plan);
    if (unread !== undefined) return { values: [], lacking: [unread] };
    const { message, due } = lackingWeather(plan, `the plan gives no ${WORDS[quantity]}`);
    return { values: [], lacking: [due === undefined ? { missing: message } : { missing: message, due }] };
  }
  const window = windowOf(plan);
  const values: Stated<ValueOf<Q>>[] = [];
  const steadyHours: TimeSpan[] = [];
  const counting: LoadedReport[] = [];
  for (const loaded of reports) {
    const { report } = loaded;
    const station = report && stationOf(report, plan);
    if (report === undefined || station === undefined || isSuperseded(report, reports, window)) continue;
    const { steady, passing } = statedHours(quantity, loaded, report, station, window);
    const here = [...steady, ...passing].filter((entry) => meets(entry, window));
    steadyHours.push(...steady);
    values.push(...here);
    if (here.length > 0 || cover([validHours(report, window) ?? window], window)) counting.push(loaded);
  }
  const lacking = cover(steadyHours, window)
    ? []
    : reports.map((loaded) => reasonOf(quantity, loaded, plan, window)).slice(0, 1);
  return { values, lacking: [...lacking, ...counting.flatMap((loaded) => unreadIn(quantity, loaded))] };
};

/** Why no report says anything of the window, or of a part of it; undefined where they speak of all of it. */
export const whyNoneSpeaks = (plan: Plan, { world }: FactTools): Missing | undefined => {
  const window = windowOf(plan);
  const reports = world.reports ?? [];
  const spoken = reports.flatMap(({ report }): readonly TimeSpan[] => {
    if (report === undefined || stationOf(report, plan) === undefined || !speaksOf(report, window)) return [];
    return [validHours(report, window) ?? observedHours(window)];
  });
  const [first] = reports;
  return first === undefined || cover(spoken, window) ? undefined : reasonOf('hazard', first, plan, window);
};

/** A value that the plan gives by hand stands before what the reports say of it. */
const inWindow = <Q extends Quantity>(
  quantity: Q,
  byHand: (plan: Plan) => Omit<Stated<ValueOf<Q>>, 'by'> | undefined,
): Fact<Plan, InWindow<ValueOf<Q>>> =>
  defineFact({
    name: `${quantity}-in-window`,
    derive: (plan: Plan, tools: FactTools): InWindow<ValueOf<Q>> => {
      const hand = byHand(plan);
      if (hand !== undefined) return { values: [{ ...hand, by: 'this plan' }], lacking: [] };
      return reportedInWindow(quantity, plan, tools);
    },
  });

export const windInWindow = inWindow('wind', ({ weather: { wind } }) => {
  if (wind === undefined) return undefined;
  const speed = given(wind.speed, 'the speed of the wind');
  const value: ReportedWind = {
    speed: speed.value,
    ...(wind.from !== undefined && { from: wind.from.value }),
    ...(wind.gust !== undefined && { gust: wind.gust.value }),
  };
  return { value, written: `${speed.number} ${speed.unit}`, at: speed.span };
});

export const visibilityInWindow = inWindow('visibility', ({ weather: { visibility } }) => {
  if (visibility === undefined) return undefined;
  const value: VisibilityBounds = { least: visibility.value, most: visibility.value };
  return { value, written: `${visibility.number} ${visibility.unit}`, at: visibility.span };
});

export const temperatureInWindow = inWindow(
  'temperature',
  ({ weather: { temperature } }) =>
    temperature && {
      value: temperature.value,
      written: `${temperature.number} ${temperature.unit}`,
      at: temperature.span,
    },
);

export const qnhInWindow = inWindow(
  'qnh',
  ({ weather: { qnh } }) => qnh && { value: qnh.value, written: `${qnh.number} ${qnh.unit}`, at: qnh.span },
);

import { parseMetar } from 'metar-taf-parser';
import { LENGTH_UNITS, PRESSURE_UNITS, SPEED_UNITS } from '../../units/convert.ts';
import { celsius, degrees, metres, metresPerSecond, pascals } from '../../units/frames.ts';
import type {
  CloudAbove,
  Conditions,
  InReport,
  ReportedWind,
  UnreadGroup,
  VisibilityBounds,
} from '../../world/weather-report.ts';
import { kindOfGroup, likelyKind } from './groups.ts';

/** `CAVOK` and `NSC` speak of clouds below 5,000 ft only: ICAO Annex 3, from memory. */
const SIGNIFICANT_BELOW = 5000;
/** An automatic station reports `CLR` for no cloud at or below 12,000 ft: FAA-H-8083-28 chapter 24, from memory. */
const SEEN_BY_STATION = 12_000;
/** `9999`: 10 km or more. `0000`: less than 50 m. WMO No. 306, FM 15, from memory. */
const OR_MORE = 10_000;
const LESS_THAN = 50;
/** Higher than any flight of a small aircraft: what a sky without a cloud says. */
const NO_CLOUD = 100_000;

const feet = (height: number) => metres(height * LENGTH_UNITS.ft);

/** The decoder reads one group at a time, in a report that says nothing else: it merges groups that it does not know. */
const decode = (group: string) => parseMetar(`METAR ZZZZ 010000Z ${group}`);

const SPEEDS = { KT: SPEED_UNITS.kt, MPS: SPEED_UNITS['m/s'], 'KM/H': SPEED_UNITS['km/h'] } as const;

/** A speed beyond what the group can say, `P99`, is the number at least; the decoder leaves the group out. */
const windOf = (group: string): ReportedWind | undefined => {
  const { wind } = decode(group.replace(/^(\d{3}|VRB)P/, '$1').replace('GP', 'G'));
  if (wind === undefined) return undefined;
  // The decoder takes "KMH" for knots.
  const unit = group.endsWith('KMH') ? SPEED_UNITS['km/h'] : SPEEDS[wind.unit];
  return {
    ...(wind.degrees !== undefined && { from: degrees(wind.degrees) }),
    speed: metresPerSecond(wind.speed * unit),
    ...(wind.gust !== undefined && { gust: metresPerSecond(wind.gust * unit) }),
  };
};

const exactly = (value: number): VisibilityBounds => ({ least: metres(value), most: metres(value) });

const visibilityOf = (group: string): VisibilityBounds | undefined => {
  const { visibility } = decode(group.replace(/(?<=^\d{4})[NSEW]{1,2}$/, ''));
  if (visibility === undefined) return undefined;
  if (visibility.unit === 'm') {
    if (visibility.indicator === 'P') return { least: metres(OR_MORE) };
    return visibility.value === 0 ? { least: metres(0), most: metres(LESS_THAN) } : exactly(visibility.value);
  }
  const value = milesOf(group) * LENGTH_UNITS.mi;
  if (visibility.indicator === 'P') return { least: metres(value) };
  return visibility.indicator === 'M' ? { least: metres(0), most: metres(value) } : exactly(value);
};

/** The decoder rounds fractions to two decimals: 1/8 becomes 0.13. */
const milesOf = (group: string): number => {
  const parts = /^[PM]?(?:(\d{1,2}) ?)??(?:(\d{1,2})\/(\d{1,2}))?SM$/.exec(group);
  const [, whole = '0', top = '0', bottom = '1'] = parts ?? [];
  return Number(whole) + Number(top) / Number(bottom);
};

const noneBelow = (height: number): CloudAbove => ({ kind: 'none below', height: feet(height) });

const cloudOf = (group: string): CloudAbove | undefined => {
  if (group === 'CLR') return noneBelow(SEEN_BY_STATION);
  if (group === 'NSC' || group === 'NCD') return noneBelow(SIGNIFICANT_BELOW);
  if (group === 'SKC') return { kind: 'none below', height: metres(NO_CLOUD) };
  const { clouds, verticalVisibility } = decode(group);
  const layer = clouds[0];
  // The decoder loses the height of a layer on the ground ("OVC000"), and a layer whose amount was not seen ("///015").
  const ground = /^(?:[A-Z]{3}|\/{3})(\d{3})/.exec(group)?.[1];
  const height = verticalVisibility ?? layer?.height ?? (ground === undefined ? undefined : Number(ground) * 100);
  return height === undefined ? undefined : { kind: 'cloud', height: feet(height) };
};

/** What some groups say that were understood; and those that were not, or that name a thing without its number. */
export interface ReadConditions {
  readonly conditions: Conditions;
  readonly unread: readonly UnreadGroup[];
}

const lower = <T>(one: InReport<T> | undefined, other: InReport<T>, of: (value: T) => number): InReport<T> =>
  one !== undefined && of(one.value) <= of(other.value) ? one : other;

const most = (bounds: VisibilityBounds): number => bounds.most ?? Number.POSITIVE_INFINITY;

/** What to call hazards by the letters of their groups: WMO No. 306, code table 4678, from memory. */
const HAZARDS: readonly (readonly [RegExp, string])[] = [
  [/^(?:\+|-|VC)?TS/, 'a thunderstorm'],
  [/FC/, 'a funnel cloud'],
  [/SQ/, 'squalls'],
  [/GR|GS|PL/, 'hail or ice pellets'],
  [/FZ/, 'freezing rain, drizzle or fog'],
  [/SS|DS/, 'a sandstorm or duststorm'],
  [/VA/, 'volcanic ash'],
  [/(?:CB|TCU)$/, 'thunderclouds'],
];

/** Recent weather (`RETS`) is over, and the first hazard of a report says enough. */
const withHazard = (conditions: Conditions, group: string): Conditions => {
  const isWeather = /^(?:\+|-|VC)?[A-Z]{2,9}(?:\/[A-Z]+)?$/.test(group) && !/^(?:RE|AUTO|COR|NOSIG|NSW)/.test(group);
  if (conditions.hazard !== undefined || !(isWeather || /(?:CB|TCU)$/.test(group))) return conditions;
  const named = HAZARDS.find(([letters]) => letters.test(group));
  return named === undefined ? conditions : { ...conditions, hazard: { value: named[1], group } };
};

/** The conditions with one more group taken in; undefined where the group gives no number. */
const withGroup = (conditions: Conditions, group: string): Conditions | undefined => {
  const kind = kindOfGroup(group);
  if (kind === 'passed over') return withHazard(conditions, group);
  if (kind === 'unread') return undefined;
  if (kind === 'variation') {
    if (conditions.wind === undefined) return conditions;
    const { from: _, ...wind } = conditions.wind.value;
    return { ...conditions, wind: { value: wind, group: `${conditions.wind.group} ${group}` } };
  }
  if (kind === 'wind') {
    const value = windOf(group);
    return value && { ...conditions, wind: { value, group } };
  }
  if (kind === 'visibility') {
    const value = visibilityOf(group);
    const visibility = value && lower(conditions.visibility, { value, group }, most);
    if (group !== 'CAVOK') return visibility && { ...conditions, visibility };
    return visibility && { ...conditions, visibility, cloud: { value: noneBelow(SIGNIFICANT_BELOW), group } };
  }
  if (kind === 'cloud') {
    const value = cloudOf(group);
    const cloud = value && lower(conditions.cloud, { value, group }, ({ height }) => height);
    return cloud && withHazard({ ...conditions, cloud }, group);
  }
  if (kind === 'temperature') {
    const { temperature } = decode(group.replace(/\/(?:\/\/)?$/, '/00'));
    return temperature === undefined
      ? undefined
      : { ...conditions, temperature: { value: celsius(temperature), group } };
  }
  const { altimeter } = decode(group);
  const unit = altimeter?.unit === 'inHg' ? PRESSURE_UNITS.inHg : PRESSURE_UNITS.hPa;
  return altimeter && { ...conditions, qnh: { value: pascals(altimeter.value * unit), group } };
};

/** Some groups leave the decoder with an exception; they are as good as not understood. */
const tryGroup = (conditions: Conditions, group: string): Conditions | undefined => {
  try {
    return withGroup(conditions, group);
  } catch {
    return undefined;
  }
};

const unreadGroup = (group: string): UnreadGroup => {
  const kind = kindOfGroup(group);
  if (kind === 'unread' || kind === 'passed over') {
    return { group, of: likelyKind(group) ?? 'anything', why: 'not understood' };
  }
  const of = kind === 'variation' ? 'wind' : kind === 'pressure' ? 'qnh' : kind;
  return { group, of, why: group.includes('//') ? 'not measured' : 'not understood' };
};

/** Reads the groups of one report or of one change in it. Of several clouds the lowest counts, of visibilities the least. */
export const readConditions = (groups: readonly string[]): ReadConditions => {
  const unread: UnreadGroup[] = [];
  let conditions: Conditions = {};
  for (const group of groups) {
    const next = tryGroup(conditions, group);
    if (next === undefined) unread.push(unreadGroup(group));
    else conditions = next;
  }
  return { conditions, unread };
};

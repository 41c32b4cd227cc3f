import type { ActiveTerms, Choice, Condition, EdgeTerms, Plain, RadiusTerms } from '../plan/mapping.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import { readDateOrTime } from '../plan/scalars/time.ts';
import { endOfDay, startOfDay } from '../units/calendar.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { aboveEllipsoid, aboveGround, aboveSea, type Instant, instant, type Metres, metres } from '../units/frames.ts';
import { type Json, type JsonObject, Unusable } from './geojson-features.ts';
import type { ActivePeriod, ActiveTime, ZoneEdge } from './zone.ts';
import { readEdge } from './zone-edge.ts';
import { periodOf, readActive } from './zone-times.ts';

/** Values of an authority's properties through the terms of a mapping. Everything here throws `Unusable`. */

/** A property as text; undefined where it is absent, null, or blank. */
export const propertyValue = (properties: JsonObject, property: string): string | undefined => {
  const value = Object.hasOwn(properties, property) ? properties[property] : undefined;
  if (value === undefined || value === null) return undefined;
  if (typeof value === 'object') throw new Unusable(`has a "${property}" that is no single value`);
  const text = String(value).trim();
  return text === '' ? undefined : text;
};

const quote = (text: string): string => `"${text.replace(/\s+/g, ' ').slice(0, 40)}"`;

export const meets = (properties: JsonObject, { property, is, isNot }: Condition): boolean => {
  const value = propertyValue(properties, property) ?? '';
  return (is === undefined || is.includes(value)) && isNot?.includes(value) !== true;
};

/** The word that a choice gives; undefined where the property is absent and nothing is said for that. */
export const chosen = (properties: JsonObject, choice: Choice | undefined): string | undefined => {
  if (choice === undefined) return undefined;
  if ('fixed' in choice) return choice.fixed;
  const value = propertyValue(properties, choice.property);
  if (value === undefined) return choice.absent;
  if (choice.table === undefined) return value;
  const word = choice.table.get(value);
  if (word === undefined)
    throw new Unusable(`has ${quote(value)} as its "${choice.property}", which the mapping does not name`);
  return word;
};

/** As `chosen`, but one of these words; `none` and absence are undefined. */
export const chosenOf = <W extends string>(
  properties: JsonObject,
  choice: Choice | undefined,
  words: readonly W[],
): W | undefined => {
  const text = chosen(properties, choice);
  if (text === undefined || text === 'none') return undefined;
  const word = words.find((known) => known === text);
  if (word !== undefined) return word;
  const property = choice !== undefined && 'property' in choice ? choice.property : '';
  throw new Unusable(`has ${quote(text)} as its "${property}", which is none of ${words.join(', ')}`);
};

const EXPONENTLESS = /^[-+]?\d+(?:\.\d+)?$/;

const edgeOfNumber = (value: number, unit: string, datum: string | undefined, end: 'floor' | 'ceiling'): ZoneEdge => {
  const length = unit === 'FL' ? 100 * LENGTH_UNITS.ft : unit === 'ft' ? LENGTH_UNITS.ft : 1;
  const height = value * length;
  if (datum === 'standard pressure' || unit === 'FL') return { pressureAltitude: metres(height) };
  if (datum === 'AGL') return end === 'floor' && height <= 0 ? 'surface' : { aboveGround: aboveGround(height) };
  if (datum === 'AMSL') return { aboveSea: aboveSea(height) };
  if (datum === 'above ellipsoid') return { aboveEllipsoid: aboveEllipsoid(height) };
  throw new Unusable(`has a ${end} whose datum its mapping does not give`);
};

/** A floor or ceiling. */
export const edgeOf = (properties: JsonObject, terms: EdgeTerms, end: 'floor' | 'ceiling'): ZoneEdge => {
  const value = propertyValue(properties, terms.property) ?? terms.absent;
  if (value === undefined) throw new Unusable(`has no "${terms.property}", which is its ${end}`);
  const named = terms.table?.get(value) ?? (value === terms.absent ? value : undefined);
  if (named !== undefined) return readEdge(named, end);
  if (terms.unit === undefined && terms.datum === undefined) return readEdge(value, end);
  if (!EXPONENTLESS.test(value))
    throw new Unusable(`has ${quote(value)} as its "${terms.property}", which is no number`);
  const unit = chosenOf(properties, terms.unit, ['m', 'ft', 'FL']);
  if (unit === undefined) throw new Unusable(`has a ${end} whose unit its mapping does not give`);
  return edgeOfNumber(Number(value), unit, chosen(properties, terms.datum), end);
};

/** The radius of a point. */
export const radiusOf = (properties: JsonObject, terms: RadiusTerms | undefined): Metres | undefined => {
  const value = terms === undefined ? undefined : propertyValue(properties, terms.property);
  if (terms === undefined || value === undefined) return undefined;
  if (terms.unit === undefined) {
    const read = readAmount(value, 'length');
    return read.ok ? read.value : undefined;
  }
  const unit = chosenOf(properties, terms.unit, ['m', 'km', 'ft', 'mi', 'NM']);
  return unit !== undefined && EXPONENTLESS.test(value) ? metres(Number(value) * LENGTH_UNITS[unit]) : undefined;
};

/** A date alone is the whole of that day, wherever its clocks are: the zone then counts for longer, not for less. */
const instantIn = (
  properties: JsonObject,
  property: string | undefined,
  end: 'from' | 'until',
): Instant | undefined => {
  const value = property === undefined ? undefined : propertyValue(properties, property);
  if (value === undefined) return undefined;
  const read = readDateOrTime(value);
  if (!read.ok) {
    throw new Unusable(
      `has ${quote(value)} as its "${property}", which is no date and no time with an offset from UTC`,
    );
  }
  if ('time' in read.value) return read.value.time.at;
  return end === 'from' ? startOfDay(read.value.date, EASTMOST) : endOfDay(read.value.date, WESTMOST);
};

/** Offsets from UTC in use reach from -12:00 to +14:00 (from memory). */
const EASTMOST = 14 * 60;
const WESTMOST = -12 * 60;

const jsonOf = (plain: Plain): Json => plain as Json;

/** The hours that a value stands for; undefined for always. Throws `Unusable` where the mapping's own entry is faulty. */
export const hoursOf = (plain: Plain): readonly ActiveTime[] | undefined => {
  if (plain === 'always') return undefined;
  if (typeof plain === 'string') return [{ untold: plain }];
  return readActive(jsonOf(Array.isArray(plain) ? plain : [plain]));
};

const hoursIn = (properties: JsonObject, { property, table }: ActiveTerms): readonly ActiveTime[] | undefined => {
  const value = property === undefined ? undefined : propertyValue(properties, property);
  if (value === undefined) return undefined;
  const meant = table.get(value);
  return meant === undefined ? [{ untold: `at times that its file gives as ${quote(value)}` }] : hoursOf(meant);
};

/** When the zone of a feature is active; undefined for always. */
export const activeOf = (properties: JsonObject, terms: ActiveTerms | undefined): readonly ActiveTime[] | undefined => {
  if (terms === undefined) return undefined;
  const from = instantIn(properties, terms.from, 'from');
  const until = instantIn(properties, terms.until, 'until');
  const hours = hoursIn(properties, terms);
  if (from === undefined && until === undefined) return hours;
  if (hours === undefined) return [periodOf(from, until)];
  return hours.map((time) => ('untold' in time ? time : within(time, from, until)));
};

/** A period cut down to the validity of its zone. */
const within = (period: ActivePeriod, from: Instant | undefined, until: Instant | undefined): ActivePeriod => {
  const starts = [period.from, from].filter((one) => one !== undefined);
  const ends = [period.until, until].filter((one) => one !== undefined);
  const latest = starts.length === 0 ? undefined : instant(Math.max(...starts));
  const earliest = ends.length === 0 ? undefined : instant(Math.min(...ends));
  return periodOf(latest, earliest, period.weekly);
};

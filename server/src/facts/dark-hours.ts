import { type Box, boxAround, boxesMeet } from '../geo/box.ts';
import { CIVIL_TWILIGHT_ALTITUDE, SUN_YEARS, SUNRISE_ALTITUDE, type SunBelow, timesBelow } from '../geo/sun.ts';
import type { Plan } from '../plan/model.ts';
import { dateAt } from '../units/calendar.ts';
import { outdoes } from '../units/exceeds.ts';
import { degrees, type Instant, instant, type LonLat } from '../units/frames.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type Fact, type FactTools, given, NotAssessed } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';

/**
 * The part of the window that lies in the dark, at the place of the plan where most of it does. As long as no time of
 * arrival is worked out, the craft may be anywhere at any time of the window, so the whole window counts everywhere.
 */
export interface DarkHours extends Partly {
  /** At most the first two, in order: a morning and an evening. None where it is light all the time. */
  readonly stretches: readonly DarkStretch[];
  /** "home" */
  readonly where: string;
  readonly at: LonLat;
}

export interface DarkStretch {
  /** The part inside the window. */
  readonly from: Instant;
  readonly until: Instant;
  /** When the dark begins and ends; absent where that lies outside the window. */
  readonly begins?: Instant;
  readonly ends?: Instant;
}

interface Span {
  readonly from: Instant;
  readonly until: Instant;
}

interface NamedPlace {
  readonly where: string;
  readonly at: LonLat;
}

const MINUTE = 60_000;
const DAY = 1440 * MINUTE;

/**
 * Official times are printed to the minute, and the computed ones agree with them to a minute. A window that ends at the
 * printed minute must not be told that it is late, so the dark counts from a minute after it begins.
 */
const GRACE = MINUTE;

/** 14 CFR 107.29(c): civil twilight lasts 30 minutes from official sunset, and to official sunrise, outside Alaska. */
const FIXED_TWILIGHT = 30 * MINUTE;

/** Longest part of a window that is looked at: within a year the sun has been as low as it gets at every place. */
const LONGEST = 367 * DAY;

/** Stretches of one dark period at a place that reach into a span of time; ends that lie outside may be absent. */
type DarkAt = (place: LonLat, span: Span, tools: FactTools) => Iterable<SunBelow>;

const below =
  (altitude: typeof SUNRISE_ALTITUDE, lower = 0): DarkAt =>
  (place, { from, until }) =>
    timesBelow(place, degrees(altitude + lower), from, until);

/** Alaska with the Aleutians, over the 180° meridian; generous, from memory. */
const ALASKA: Box = { west: degrees(172), south: degrees(51), east: degrees(-129.5), north: degrees(72) };

/** Whether civil twilight is the Air Almanac's at a place: 14 CFR 107.29(c)(3). A place outside does not become Alaska. */
const isAlaska = (place: LonLat, { plan, settings }: FactTools): boolean => {
  const state = (plan.state ?? settings.state)?.value.toUpperCase();
  const here = boxAround([place]);
  return (state === 'AK' || state === 'ALASKA') && here !== undefined && boxesMeet(ALASKA, here);
};

/**
 * Night by either reading: the sun's centre is below -6° (14 CFR 1.1, the Air Almanac), or, outside Alaska, the 30 minutes
 * of twilight of 14 CFR 107.29(c) are over and it is not yet day. The two do not meet: in Seattle in June -6° comes 41
 * minutes after sunset.
 */
function* nightByEither(place: LonLat, { from, until }: Span, tools: FactTools): Generator<SunBelow> {
  if (isAlaska(place, tools)) {
    yield* timesBelow(place, CIVIL_TWILIGHT_ALTITUDE, from, until);
    return;
  }
  const wide = { from: instant(from - 2 * FIXED_TWILIGHT), until: instant(until + 2 * FIXED_TWILIGHT) };
  for (const { sets, rises } of timesBelow(place, SUNRISE_ALTITUDE, wide.from, wide.until)) {
    const fixed = [
      sets === undefined ? wide.from : sets + FIXED_TWILIGHT,
      rises === undefined ? wide.until : rises - FIXED_TWILIGHT,
    ] as const;
    const civil = [...timesBelow(place, CIVIL_TWILIGHT_ALTITUDE, sets ?? wide.from, rises ?? wide.until)];
    if (fixed[0] >= fixed[1]) {
      yield* civil;
      continue;
    }
    // In one stretch without sun the fixed night and those by -6° overlap, so that together they are one.
    const begins = sets === undefined ? undefined : Math.min(fixed[0], civil[0]?.sets ?? fixed[0]);
    const ends = rises === undefined ? undefined : Math.max(fixed[1], civil[civil.length - 1]?.rises ?? fixed[1]);
    yield {
      ...(begins !== undefined && { sets: instant(begins) }),
      ...(ends !== undefined && { rises: instant(ends) }),
    };
  }
}

/** The part of a stretch that lies in the window; undefined where that is less than the grace at its ends. */
const inWindow = ({ sets, rises }: SunBelow, window: Span): DarkStretch | undefined => {
  const begins = sets !== undefined && sets > window.from ? sets : undefined;
  const ends = rises !== undefined && rises < window.until ? rises : undefined;
  const first = sets === undefined ? window.from : Math.max(window.from, sets + GRACE);
  const last = rises === undefined ? window.until : Math.min(window.until, rises - GRACE);
  if (first >= last) return undefined;
  return {
    from: begins ?? window.from,
    until: ends ?? window.until,
    ...(begins !== undefined && { begins }),
    ...(ends !== undefined && { ends }),
  };
};

const stretchesAt = (darkAt: DarkAt, place: LonLat, window: Span, tools: FactTools): readonly DarkStretch[] => {
  // The search begins early enough for a dusk just before the window to be seen as the beginning of the dark.
  const span = { from: instant(window.from - 2 * GRACE), until: instant(window.until + 2 * GRACE) };
  const found: DarkStretch[] = [];
  for (const stretch of darkAt(place, span, tools)) {
    const part = inWindow(stretch, window);
    if (part !== undefined) found.push(part);
    if (found.length === 2) break;
  }
  return found;
};

const windowOf = (plan: Plan): Span => {
  const from = given(plan.window?.from, 'the beginning of the window').value.at;
  const until = given(plan.window?.until, 'the end of the window').value.at;
  if (until <= from) throw new NotAssessed('the window does not end after it begins');
  const years = [dateAt(from, 0).year, dateAt(until, 0).year];
  if (years.some((year) => year < SUN_YEARS.first || year > SUN_YEARS.last)) {
    throw new NotAssessed(`the sun is worked out for the years ${SUN_YEARS.first} to ${SUN_YEARS.last} only`);
  }
  return { from, until: instant(Math.min(until, from + LONGEST)) };
};

const cellOf = ({ lat, lon }: LonLat): string => `${Math.round(lat * 100)} ${Math.round(lon * 100)}`;

/**
 * The places of a plan, one for each hundredth of a degree: within it the sun's times differ by a few seconds. Of an area
 * the corners of the box around it count, since the sun is lowest on the edge of any outline.
 */
const placesOf = (plan: Plan, tools: FactTools): { readonly places: readonly NamedPlace[] } & Partly => {
  const cells = new Map<string, NamedPlace>();
  const keep = (where: string, at: LonLat): void => {
    const cell = cellOf(at);
    if (!cells.has(cell)) cells.set(cell, { where, at });
  };
  const lacking: { readonly missing: string }[] = [];
  for (const item of plan.flights.flatMap((flight) => tools.ask(flownItems, flight))) {
    const found = orLacking(() => {
      if (item.kind !== 'area') return [tools.ask(itemPlace, item)];
      const box = boxAround(tools.ask(areaShape, item).ring);
      if (box === undefined) return [];
      const { west, south, east, north } = box;
      return [south, north].flatMap((lat) => [west, east].map((lon) => ({ lon, lat })));
    });
    if ('missing' in found) lacking.push(found);
    else for (const at of found.known) keep(item.id.value, at);
  }
  const site = plan.site.takeOff?.at?.value;
  if (site !== undefined) keep('the take-off place', site);
  return { places: [...cells.values()], lacking };
};

const totalOf = (stretches: readonly DarkStretch[]): number =>
  stretches.reduce((sum, { from, until }) => sum + (until - from), 0);

/**
 * One degree of the sun's altitude is 111 km on the ground. An item whose place is not known is taken to lie nearer to the
 * others than that: no flight in sight reaches so far.
 */
const NEARBY = 1;

const darkHours = (name: string, darkAt: DarkAt, altitude: typeof SUNRISE_ALTITUDE): Fact<Plan, DarkHours> =>
  defineFact({
    name,
    derive: (plan: Plan, tools: FactTools): DarkHours => {
      const window = windowOf(plan);
      const { places, lacking } = placesOf(plan, tools);
      const [first] = places;
      if (first === undefined) throw new NotAssessed('no place of the plan is known, so neither is its daylight');
      let worst: DarkHours = { stretches: [], ...first, lacking: [] };
      for (const place of places) {
        const stretches = stretchesAt(darkAt, place.at, window, tools);
        if (outdoes(totalOf(stretches), totalOf(worst.stretches))) worst = { stretches, ...place, lacking: [] };
      }
      if (lacking.length === 0 || worst.stretches.length > 0) return worst;
      const maybe = places.some(({ at }) => stretchesAt(below(altitude, NEARBY), at, window, tools).length > 0);
      return { ...worst, lacking: maybe ? lacking : [] };
    },
  });

/** Between official sunset and official sunrise: night and civil twilight together. */
export const sunDownHours = darkHours('sun-down-hours', below(SUNRISE_ALTITUDE), SUNRISE_ALTITUDE);

/** Between the end of evening and the beginning of morning civil twilight: 14 CFR 1.1; (EU) 923/2012 Art. 2, from memory. */
export const civilNightHours = darkHours('civil-night-hours', below(CIVIL_TWILIGHT_ALTITUDE), CIVIL_TWILIGHT_ALTITUDE);

/** Night under part 107 by either reading of its twilight. */
export const nightHoursByEither = darkHours('night-hours-by-either', nightByEither, SUNRISE_ALTITUDE);

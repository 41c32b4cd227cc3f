import { bandOf } from '../facts/area-band.ts';
import { areaGround } from '../facts/area-height.ts';
import type { FactTools } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { groundOfItem, heightAtItem, itemHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { orLacking } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legGround } from '../facts/leg-ground.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import { type HeightLimit, heightLimit } from '../rulebook/height-limit.ts';

/** A place of a height profile: metres flown over the ground, and metres above mean sea level. */
export interface LinePoint {
  readonly along: number;
  readonly altitude: number;
}

type Line = readonly LinePoint[];

/** An item of the route on the profile. `at` counts the items of the plan's text from 1. */
export interface LinePlace {
  readonly along: number;
  readonly item: Item;
  readonly altitude?: number;
}

/** From below to above at one place: the way straight up or down, or the band of an area that is flown by hand. */
export interface Upright {
  readonly kind: 'column' | 'band';
  readonly along: number;
  readonly low: number;
  readonly high: number;
}

/** A leg of the line, and where it begins. */
export interface LineLeg {
  readonly leg: Leg;
  readonly from: number;
  readonly length: number;
}

/** The height of a flight, or of one leg, over the distance flown. Pieces of the ground without data are left out. */
export interface FlightLine {
  readonly length: number;
  readonly ground: readonly Line[];
  readonly craft: readonly Line[];
  readonly uprights: readonly Upright[];
  readonly places: readonly LinePlace[];
  readonly legs: readonly LineLeg[];
  /** The height limit over the ground. */
  readonly limit?: { readonly lines: readonly Line[]; readonly limit: HeightLimit };
  /** Elevation of the take-off place. */
  readonly takeOff?: number;
  /** What could not be drawn, each reason once. */
  readonly lacking: readonly string[];
}

/**
 * The lines of a ground profile, thinned to the lowest and highest place of so many columns, so that no summit is lost.
 */
const groundLines = (profile: GroundProfile, start: number, columns: number): readonly Line[] => {
  const { pieces, along, a, b, c } = profile;
  const width = (along[pieces] ?? 0) / columns;
  const lines: LinePoint[][] = [];
  let line: LinePoint[] | undefined;
  let column: LinePoint[] = [];
  const flush = (): void => {
    const [first] = column;
    if (line !== undefined && first !== undefined) {
      const by = (better: (one: number, other: number) => boolean): LinePoint =>
        column.reduce((best, each) => (better(each.altitude, best.altitude) ? each : best), first);
      const kept = [first, by((one, other) => one < other), by((one, other) => one > other), column[column.length - 1]];
      const ordered = kept.filter((each) => each !== undefined).sort((one, other) => one.along - other.along);
      line.push(...ordered.filter((each, i) => each !== ordered[i - 1]));
    }
    column = [];
  };
  for (let i = 0; i < pieces; i++) {
    const from = along[i] ?? 0;
    const length = (along[i + 1] ?? from) - from;
    const [level, slope, bend] = [a[i] ?? Number.NaN, b[i] ?? 0, c[i] ?? 0];
    if (Number.isNaN(level)) {
      flush();
      line = undefined;
      continue;
    }
    if (line === undefined) {
      line = [];
      lines.push(line);
    }
    const turn = bend === 0 ? -1 : -slope / (2 * bend);
    for (const t of [0, ...(turn > 0 && turn < length ? [turn] : []), length]) {
      const [first] = column;
      if (first !== undefined && from + t + start - first.along > width) flush();
      column.push({ along: start + from + t, altitude: level + (slope + bend * t) * t });
    }
  }
  flush();
  return lines.filter((each) => each.length > 0);
};

const raised = (lines: readonly Line[], by: number): readonly Line[] =>
  lines.map((line) => line.map(({ along, altitude }) => ({ along, altitude: altitude + by })));

const JOINS = 0.01;

/** Puts lines behind others; one that begins where the last ends goes on with it. */
const append = (lines: LinePoint[][], more: readonly Line[]): void => {
  for (const line of more) {
    const [first] = line;
    const last = lines[lines.length - 1];
    const end = last?.[last.length - 1];
    const joins =
      first !== undefined &&
      end !== undefined &&
      Math.abs(first.along - end.along) < JOINS &&
      Math.abs(first.altitude - end.altitude) < JOINS;
    if (joins && last !== undefined) for (const point of line) last.push(point);
    else lines.push([...line]);
  }
};

/** A line with more points than a picture shows, by the lowest and highest place of each of so many columns. */
const thinned = (line: Line, columns: number): Line => {
  const [from, to] = [line[0]?.along ?? 0, line[line.length - 1]?.along ?? 0];
  if (line.length <= columns * 8) return line;
  const kept: LinePoint[] = [];
  let column: LinePoint[] = [];
  let edge = from;
  const flush = (): void => {
    const [first] = column;
    if (first === undefined) return;
    const low = column.reduce((one, other) => (other.altitude < one.altitude ? other : one), first);
    const high = column.reduce((one, other) => (other.altitude > one.altitude ? other : one), first);
    const last = column[column.length - 1] ?? first;
    const ordered = [first, low, high, last].sort((one, other) => one.along - other.along);
    kept.push(...ordered.filter((point, i) => point !== ordered[i - 1]));
    column = [];
  };
  for (const point of line) {
    if (point.along > edge) {
      flush();
      edge = point.along + (to - from) / columns;
    }
    column.push(point);
  }
  flush();
  return kept;
};

/** Collects a line while what is lacking for parts of it is kept, each reason once. */
class Draft {
  readonly ground: LinePoint[][] = [];
  readonly craft: LinePoint[][] = [];
  readonly uprights: Upright[] = [];
  readonly places: LinePlace[] = [];
  readonly legs: LineLeg[] = [];
  readonly lacking = new Set<string>();
  along = 0;

  known<T>(derive: () => T): T | undefined {
    const answer = orLacking(derive);
    if ('known' in answer) return answer.known;
    this.lacking.add(answer.missing);
    return undefined;
  }

  leg(leg: Leg, columns: number, tools: FactTools): void {
    const path = this.known(() => tools.ask(pathOfLeg, leg));
    if (path === undefined) return;
    const start = this.along;
    const { length } = path;
    this.legs.push({ leg, from: start, length });
    const profile = this.known(() => tools.ask(legGround, leg));
    const ground = profile === undefined ? [] : groundLines(profile, start, columns);
    append(this.ground, ground);
    const craft = this.known(() => tools.ask(legAltitudes, leg));
    if (craft?.kind === 'follows') append(this.craft, raised(ground, craft.height));
    else if (craft !== undefined) {
      const end = { along: start + length, altitude: craft.end.aboveSea };
      append(this.craft, [[{ along: start, altitude: craft.start.aboveSea }, end]]);
    }
    this.along += length;
  }

  item(item: Item, end: 'arriving' | 'leaving', tools: FactTools): void {
    const altitude = this.known(() => tools.ask(itemHeight, item)[end].aboveSea);
    this.places.push({ along: this.along, item, ...(altitude !== undefined && { altitude }) });
    if (item.kind === 'area') {
      const band = this.known(() => {
        const { lower, upper } = bandOf(item);
        const edge = (written: typeof lower, side: 'least' | 'greatest'): number =>
          'aboveGround' in written.value
            ? tools.ask(areaGround, item)[side] + written.value.aboveGround
            : heightAtItem(written, item, tools).aboveSea;
        return { low: edge(lower, 'least'), high: edge(upper, 'greatest') };
      });
      if (band !== undefined) this.uprights.push({ kind: 'band', along: this.along, ...band });
    }
    if ((item.kind === 'take-off' || item.kind === 'land') && altitude !== undefined) {
      const low = this.known(() => groundOfItem(item, tools.ask(itemPlace, item), tools));
      if (low !== undefined) this.uprights.push({ kind: 'column', along: this.along, low, high: altitude });
    }
  }

  whole(first: Item, columns: number, tools: FactTools): FlightLine {
    const ground = this.ground.map((line) => thinned(line, columns));
    const limit = this.known(() => heightLimit(tools));
    const takeOff = this.known(() => tools.ask(takeOffElevation, first).value);
    return {
      length: this.along,
      ground,
      craft: this.craft.map((line) => thinned(line, columns)),
      uprights: this.uprights,
      places: this.places,
      legs: this.legs,
      ...(limit !== undefined && { limit: { lines: raised(ground, limit.value), limit } }),
      ...(takeOff !== undefined && { takeOff }),
      lacking: [...this.lacking],
    };
  }
}

/** The height along one leg. */
export const lineOfLeg = (leg: Leg, columns: number, tools: FactTools): FlightLine => {
  const draft = new Draft();
  draft.item(leg.from, 'leaving', tools);
  draft.leg(leg, columns, tools);
  draft.item(leg.to, 'arriving', tools);
  return draft.whole(leg.flight.first, columns, tools);
};

/** The height along a flight. A place that many legs share, or a pattern, stands where the craft first comes to it. */
export const lineOfFlight = (flight: Flight, columns: number, tools: FactTools): FlightLine => {
  const legs = tools.ask(flownLegs, flight);
  const draft = new Draft();
  const each = Math.max(4, Math.round(columns / Math.max(1, legs.length)));
  const [first] = legs;
  if (first !== undefined) draft.item(first.from, 'leaving', tools);
  for (const leg of legs) {
    draft.leg(leg, each, tools);
    const { partOf } = leg.to;
    if (partOf === undefined) draft.item(leg.to, 'arriving', tools);
    else if (leg.from.partOf?.pattern !== partOf.pattern) draft.item(partOf.pattern, 'arriving', tools);
  }
  return draft.whole(flight.first, columns, tools);
};

import type { FactTools } from '../facts/fact.ts';
import { heightAtItem } from '../facts/item-height.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legGround } from '../facts/leg-ground.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { groundOf } from '../geo/ground-profile.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import type { Item, Leg, LegTerms } from '../plan/model.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { sayCount, sayList, sayNumber, sayPosition } from '../units/say.ts';
import type { Fix } from './finding.ts';
import type { HeightBand } from './height-band.ts';

/** More points than this are no mend but another route. */
const MOST_POINTS = 6;

/** Metres that new points stay below the greatest height, because their positions are rounded to a tenth of a metre. */
const ROOM = 0.5;

/** A vertex of the mended leg: metres from the start, and altitude above the sea. */
interface Vertex {
  readonly along: number;
  readonly altitude: number;
}

/** Where a straight stretch between two vertices is furthest out of the band, if it is. */
const worstBetween = (profile: GroundProfile, from: Vertex, to: Vertex, band: HeightBand): number | undefined => {
  const climb = (to.altitude - from.altitude) / (to.along - from.along);
  let worst: { along: number; out: number } | undefined;
  const look = (along: number): void => {
    if (along <= from.along || along >= to.along) return;
    const ground = groundOf(profile, along);
    if (Number.isNaN(ground)) return;
    const height = from.altitude + climb * (along - from.along) - ground;
    const out = Math.max(height - band.most, band.least - height);
    if (out > 0.001 && (worst === undefined || out > worst.out)) worst = { along, out };
  };
  for (let piece = 0; piece < profile.pieces; piece++) {
    const start = profile.along[piece] ?? 0;
    const bend = profile.c[piece] ?? 0;
    look(start);
    // The height turns where the ground climbs as fast as the craft.
    if (bend !== 0) {
      const turn = start + (climb - (profile.b[piece] ?? 0)) / (2 * bend);
      if (turn > start && turn < (profile.along[piece + 1] ?? start)) look(turn);
    }
  }
  return worst?.along;
};

/**
 * Altitude of an end of the leg once a new point stands next to it: a take-off without `climb-to` and a landing take the
 * new point's height over, an area is entered and left at the height of its band nearest to the new point's.
 */
const endBeside = (
  item: Item,
  end: Vertex,
  beside: Vertex,
  ground: (along: number) => number,
  tools: FactTools,
): number => {
  const shares = (item.kind === 'take-off' && item.climbTo === undefined) || item.kind === 'land';
  if (shares) return ground(end.along) + beside.altitude - ground(beside.along);
  if (item.kind !== 'area' || item.area?.from === undefined || item.area.to === undefined) return end.altitude;
  const band = [item.area.from, item.area.to].map((written) => heightAtItem(written, item, tools).aboveSea);
  return Math.min(Math.max(...band), Math.max(Math.min(...band), beside.altitude));
};

const moveSharedEnds = (leg: Leg, vertices: Vertex[], tools: FactTools): void => {
  if (vertices.length < 3) return;
  const profile = tools.ask(legGround, leg);
  const ground = (along: number): number => groundOf(profile, along);
  const [first, second] = vertices;
  const [beforeLast, last] = vertices.slice(-2);
  if (first === undefined || second === undefined || beforeLast === undefined || last === undefined) return;
  vertices[0] = { along: first.along, altitude: endBeside(leg.from, first, second, ground, tools) };
  vertices[vertices.length - 1] = { along: last.along, altitude: endBeside(leg.to, last, beforeLast, ground, tools) };
};

/** `leg: { speed: 8 m/s over ground }` as the ending item has it, so that the new legs keep the terms of the old one. */
const sayTerms = (terms: LegTerms | undefined): string | undefined => {
  if (terms?.speed === undefined) return undefined;
  const how = terms.speedIs === undefined ? '' : ` ${terms.speedIs}`;
  return `{ speed: ${sayNumber(terms.speed.number, 4)} ${terms.speed.unit}${how} }`;
};

/** Names for new points that the plan does not have yet. */
const freshNames = (base: string, count: number, taken: ReadonlySet<string>): readonly string[] => {
  const names: string[] = [];
  for (let n = 1; names.length < count; n++) {
    const name = `${base}-${n}`;
    if (!taken.has(name)) names.push(name);
  }
  return names;
};

/**
 * The fix that puts points where the ground falls away or rises under a leg, each at the same height above ground, until
 * all stretches between are inside the band. Worked out on the exact profile: a point on a geodesic leaves it where it
 * was. Undefined where six points are not enough.
 */
export const insertPoints = (leg: Leg, band: HeightBand, tools: FactTools): Fix | undefined => {
  const craft = tools.ask(legAltitudes, leg);
  const path = tools.ask(pathOfLeg, leg);
  const profile = tools.ask(legGround, leg);
  if (craft.kind === 'follows' || path.length < 1) return undefined;
  const heightAt = (vertex: Vertex): number => vertex.altitude - groundOf(profile, vertex.along);
  const start: Vertex = { along: 0, altitude: craft.start.aboveSea };
  const end: Vertex = { along: path.length, altitude: craft.end.aboveSea };
  // The unit that the pilot writes in; whole units, inside the band.
  const unit = (leg.to.altitude ?? leg.from.altitude)?.unit ?? 'm';
  const wanted = Math.min(Math.max(heightAt(start), heightAt(end)), band.most - ROOM);
  const number = Math.floor(wanted / LENGTH_UNITS[unit] + 1e-6);
  const height = number * LENGTH_UNITS[unit];
  if (!(height > band.least)) return undefined;

  const vertices: Vertex[] = [start, end];
  let put = true;
  while (put && vertices.length <= MOST_POINTS + 2) {
    put = false;
    moveSharedEnds(leg, vertices, tools);
    for (let i = 0; i + 1 < vertices.length; i++) {
      const [one, other] = [vertices[i], vertices[i + 1]];
      if (one === undefined || other === undefined) continue;
      const along = worstBetween(profile, one, other, band);
      if (along === undefined) continue;
      vertices.splice(i + 1, 0, { along, altitude: groundOf(profile, along) + height });
      put = true;
      break;
    }
  }
  const added = vertices.slice(1, -1);
  if (put || added.length === 0) return undefined;

  const { at, indent, style } = leg.to.insertion;
  const { eol } = tools.plan;
  const names = freshNames(leg.to.id.value, added.length, new Set(tools.plan.items.map((item) => item.id.value)));
  const terms = sayTerms(leg.to.leg);
  const text = added
    .map((vertex, i) => {
      const place = path.at(vertex.along);
      const altitude = `${number} ${unit} AGL`;
      if (style === 'flow') {
        const own = terms === undefined ? '' : `, leg: ${terms}`;
        return `{ point: ${names[i]}, at: { lat: ${sayNumber(place.lat, 6)}, lon: ${sayNumber(place.lon, 6)} }, altitude: ${altitude}${own} }, `;
      }
      const lines = [`- point: ${names[i]}`, `  at: ${sayPosition(place)}`, `  altitude: ${altitude}`];
      if (terms !== undefined) lines.push(`  leg: ${terms}`);
      return lines.map((line) => `${indent}${line}${eol}`).join('');
    })
    .join('');
  const what = `${sayCount(added.length, 'point')} (${sayList(names)}) at ${number} ${unit} AGL`;
  return {
    title: `Put ${what} before ${leg.to.id.value}, where the ground changes`,
    effect: 'changes-flight',
    edits: [{ span: at, text }],
  };
};

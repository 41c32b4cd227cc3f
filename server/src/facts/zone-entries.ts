import { type Box, boxAround, growBox } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import { commonIntervals, freeOf, type Interval, mergeIntervals } from '../geo/interval.ts';
import { intervalsNear } from '../geo/near-shape.ts';
import { partNear } from '../geo/part-near.ts';
import { intervalsInside, type Shape } from '../geo/shape.ts';
import { shortEdged } from '../geo/strip.ts';
import { type CraftLine, overAltitude, overHeight } from '../geo/vertical.ts';
import type { Leg } from '../plan/model.ts';
import { aboveSea, type LonLat, type Metres, metres } from '../units/frames.ts';
import type { Airspace, Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { defineFact, type FactTools, NotAssessed, present } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { betweenEdges, type VerticalEdge, type VerticalEdges } from './zone-vertical.ts';

/** A leg inside a zone, sideways and in height. Whether the zone is active then is for the rule to say. */
export interface ZoneEntry {
  readonly zone: Zone;
  /** Ordered, in metres along the leg; never empty. */
  readonly intervals: readonly Interval[];
  /** Where the leg first enters. */
  readonly at: LonLat;
}

export interface ZoneEntries extends Partly {
  readonly entries: readonly ZoneEntry[];
}

/** Zones are looked up this far beyond the box of the leg's ends and middle: more than a geodesic bulges. Metres. */
const BULGE = 1000;

/** So far around a path a zone counts as entered: sideways, and above what is flown. */
export interface Around {
  readonly beside: Metres;
  readonly above: Metres;
}

const ON_THE_LINE: Around = { beside: metres(0), above: metres(0) };

/** The outline of a zone with edges short enough for distances in the plane around any place. */
export const outlineOfZone = defineFact({
  name: 'outline-of-zone',
  derive: (zone: Zone): Shape => shortEdged(zone.shape),
});

const nameOf = (leg: Leg): string => `leg ${leg.from.id.value} to ${leg.to.id.value}`;

const boxOfPath = (path: LegPath): Box | undefined => boxAround([path.from, path.at(path.length / 2), path.to]);

/** The craft along the leg, at the lower or upper end of what a terrain-following leg may hold. */
const craftLine = (leg: Leg, path: LegPath, end: 'lower' | 'upper', tools: FactTools): CraftLine => {
  const craft = tools.ask(legAltitudes, leg);
  const { length } = path;
  if (craft.kind === 'straight') {
    return { kind: 'straight', start: craft.start.aboveSea, end: craft.end.aboveSea, length };
  }
  return { kind: 'follows', height: craft.height + (end === 'upper' ? craft.within : -craft.within), length };
};

const raised = (craft: CraftLine, by: Metres): CraftLine =>
  craft.kind === 'follows'
    ? { ...craft, height: craft.height + by }
    : { ...craft, start: aboveSea(craft.start + by), end: aboveSea(craft.end + by) };

const stretchesNear = (zone: Zone, path: LegPath, beside: Metres, tools: FactTools): readonly Interval[] => {
  if (!(beside > 0)) return intervalsInside(zone.shape, path);
  const around = boxOfPath(path);
  const outline = tools.ask(outlineOfZone, zone);
  const near = around === undefined ? outline : partNear(outline, growBox(around, BULGE + beside));
  return mergeIntervals([...intervalsInside(zone.shape, path), ...intervalsNear(near, path, beside)]);
};

/** The profile, once it is known to have data wherever the path is inside the zone. */
const groundInside = (leg: Leg, zone: Zone, inside: readonly Interval[], tools: FactTools): GroundProfile => {
  const profile = tools.ask(legGround, leg);
  for (let i = 0; i < profile.pieces; i++) {
    if (!Number.isNaN(profile.a[i])) continue;
    const gap = { from: profile.along[i] ?? 0, to: profile.along[i + 1] ?? 0 };
    if (commonIntervals([gap], inside).some((common) => common.to > common.from || profile.pieces === 1)) {
      throw new NotAssessed(`the terrain has no data under a part of ${nameOf(leg)} inside zone ${zone.name}`);
    }
  }
  return profile;
};

const over = (craft: CraftLine, edge: VerticalEdge, profile: () => GroundProfile): readonly Interval[] => {
  if (edge.kind === 'above-ground') return overHeight(craft, edge.height, profile);
  return edge.kind === 'above-sea' ? overAltitude(craft, edge.altitude, profile) : [];
};

/**
 * The stretches inside one zone. A zone begins above its floor and ends with its ceiling: at the very height of the floor
 * the craft is still below the zone, at the very height of the ceiling it is still in it.
 */
const insideZone = (
  leg: Leg,
  path: LegPath,
  zone: Zone,
  { beside, above }: Around,
  tools: FactTools,
): readonly Interval[] => {
  const inside = stretchesNear(zone, path, beside, tools);
  if (inside.length === 0) return inside;
  const profile = (): GroundProfile => groundInside(leg, zone, inside, tools);
  const whole = { from: 0, to: path.length };
  const between = ({ floor, ceiling }: VerticalEdges): readonly Interval[] => {
    let stretches = inside;
    if (floor.kind !== 'open') {
      stretches = commonIntervals(stretches, over(raised(craftLine(leg, path, 'upper', tools), above), floor, profile));
    }
    if (ceiling.kind !== 'open' && stretches.length > 0) {
      const higher = over(craftLine(leg, path, 'lower', tools), ceiling, profile);
      stretches = commonIntervals(stretches, freeOf(higher, whole));
    }
    return stretches;
  };
  return betweenEdges(zone, leg.flight.first, tools, between, (stretches) => stretches.length > 0);
};

/**
 * The zones of an airspace that a leg enters, in their order; or that lie within so much of it. Whether the airspace covers
 * the leg is not asked.
 */
export const entriesOnLeg = (
  leg: Leg,
  { zonesIn }: Pick<Airspace, 'zonesIn'>,
  tools: FactTools,
  around: Around = ON_THE_LINE,
): ZoneEntries => {
  const path = tools.ask(pathOfLeg, leg);
  const box = boxOfPath(path);
  const entries: ZoneEntry[] = [];
  const lacking: Missing[] = [];
  for (const zone of box === undefined ? [] : zonesIn(growBox(box, BULGE + around.beside))) {
    const found = orLacking(() => insideZone(leg, path, zone, around, tools));
    if ('missing' in found) {
      lacking.push(found);
      continue;
    }
    const [first] = found.known;
    if (first !== undefined) entries.push({ zone, intervals: found.known, at: path.at(first.from) });
  }
  return { entries, lacking };
};

/**
 * The zones that a leg enters, in the order of their files. The ways straight up and down at its ends are in
 * `volume-zones`.
 */
export const zoneEntries = defineFact({
  name: 'zone-entries',
  derive: (leg: Leg, tools: FactTools): ZoneEntries => {
    const path = tools.ask(pathOfLeg, leg);
    const airspace = present(tools.world.airspace);
    const { entries, lacking } = entriesOnLeg(leg, airspace, tools);
    const around = boxOfPath(path);
    return around === undefined || airspace.covers(around)
      ? { entries, lacking }
      : { entries, lacking: [{ missing: `the airspace files do not cover ${nameOf(leg)}` }, ...lacking] };
  },
});

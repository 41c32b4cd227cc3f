import { type Box, boxAround, growBox } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import { intervalsInside } from '../geo/shape.ts';
import { type CraftLine, overAltitude, overHeight } from '../geo/vertical.ts';
import type { Leg } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';
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

const nameOf = (leg: Leg): string => `leg ${leg.from.id.value} to ${leg.to.id.value}`;

/** The craft along the leg, at the lower or upper end of what a terrain-following leg may hold. */
const craftLine = (leg: Leg, path: LegPath, end: 'lower' | 'upper', tools: FactTools): CraftLine => {
  const craft = tools.ask(legAltitudes, leg);
  const { length } = path;
  if (craft.kind === 'straight') {
    return { kind: 'straight', start: craft.start.aboveSea, end: craft.end.aboveSea, length };
  }
  return { kind: 'follows', height: craft.height + (end === 'upper' ? craft.within : -craft.within), length };
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
const insideZone = (leg: Leg, path: LegPath, zone: Zone, tools: FactTools): readonly Interval[] => {
  const inside = intervalsInside(zone.shape, path);
  if (inside.length === 0) return inside;
  const profile = (): GroundProfile => groundInside(leg, zone, inside, tools);
  const whole = { from: 0, to: path.length };
  const between = ({ floor, ceiling }: VerticalEdges): readonly Interval[] => {
    let stretches = inside;
    if (floor.kind !== 'open') {
      stretches = commonIntervals(stretches, over(craftLine(leg, path, 'upper', tools), floor, profile));
    }
    if (ceiling.kind !== 'open' && stretches.length > 0) {
      const above = over(craftLine(leg, path, 'lower', tools), ceiling, profile);
      stretches = commonIntervals(stretches, freeOf(above, whole));
    }
    return stretches;
  };
  return betweenEdges(zone, leg.flight.first, tools, between, (stretches) => stretches.length > 0);
};

const boxOfPath = (path: LegPath): Box | undefined => boxAround([path.from, path.at(path.length / 2), path.to]);

/** The zones of an airspace that a leg enters, in their order. Whether it covers the leg is not asked. */
export const entriesOnLeg = (leg: Leg, { zonesIn }: Pick<Airspace, 'zonesIn'>, tools: FactTools): ZoneEntries => {
  const path = tools.ask(pathOfLeg, leg);
  const around = boxOfPath(path);
  const entries: ZoneEntry[] = [];
  const lacking: Missing[] = [];
  for (const zone of around === undefined ? [] : zonesIn(growBox(around, BULGE))) {
    const found = orLacking(() => insideZone(leg, path, zone, tools));
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

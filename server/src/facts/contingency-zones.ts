import { boxAround, growBox } from '../geo/box.ts';
import { legPath } from '../geo/geodesy.ts';
import { betweenShapes, nearestToShape } from '../geo/near-shape.ts';
import type { Flight } from '../plan/model.ts';
import { type LonLat, type Metres, metres } from '../units/frames.ts';
import type { Airspace } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { areaShape } from './area-shape.ts';
import { courseVolume } from './course-volume.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import type { Course } from './height-near-people.ts';
import { itemPlace } from './item-place.ts';
import { pathOfLeg } from './leg-path.ts';
import { entriesAtItem, type VolumeZones } from './volume-zones.ts';
import { type Around, entriesOnLeg, outlineOfZone, type ZoneEntries } from './zone-entries.ts';
import { type FlightZones, flightZones, visitsOf, type ZoneVisit } from './zone-visits.ts';

/** No contingency volume of a craft that a plan can describe is wider, in metres: whether one is needed is asked first. */
const WIDEST = 3000;

const isNear = (corners: readonly LonLat[], { zonesIn }: Pick<Airspace, 'zonesIn'>): boolean => {
  const around = boxAround(corners);
  return around !== undefined && zonesIn(growBox(around, WIDEST)).length > 0;
};

const whole = (zone: Zone): object => zone.layerOf ?? zone;

/** The leg or item of a visit, for what is flown there. */
export const courseOfVisit = ({ subject, of }: ZoneVisit): Course =>
  'leg' in of ? { subject, item: of.leg.to, leg: of.leg } : { subject, item: of.item };

/**
 * Zones that a flight does not enter, but whose ground or height its contingency volume reaches: sideways from each leg,
 * area, climb and descent, and upwards. Downwards nothing is added to what is flown. Kind and size of the aircraft are
 * asked for only where a zone is near.
 */
export const contingencyZones = defineFact({
  name: 'contingency-zones',
  derive: (flight: Flight, tools: FactTools): FlightZones => {
    const airspace = present(tools.world.airspace);
    const entered = new Set(tools.ask(flightZones, flight).zones.map(({ zone }) => whole(zone)));
    const others: Pick<Airspace, 'zonesIn'> = {
      zonesIn: (box) => airspace.zonesIn(box).filter((zone) => !entered.has(whole(zone)) && zone.kind !== 'cell'),
    };
    const aroundOf = (course: Course): Around => {
      const { beside, above } = courseVolume(course, tools);
      return { beside, above };
    };
    const none = { entries: [], lacking: [] } satisfies ZoneEntries & VolumeZones;
    return visitsOf(
      flight,
      {
        onLeg: (leg) => {
          const path = tools.ask(pathOfLeg, leg);
          if (!isNear([path.from, path.at(path.length / 2), path.to], others)) return none;
          const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
          return entriesOnLeg(leg, others, tools, aroundOf({ subject, item: leg.to, leg }));
        },
        atItem: (item) => {
          if (item.kind !== 'area' && item.kind !== 'take-off' && item.kind !== 'land') return none;
          const ring = item.kind === 'area' ? tools.ask(areaShape, item).ring : [tools.ask(itemPlace, item)];
          if (!isNear(ring, others)) return none;
          return entriesAtItem(item, others, tools, aroundOf({ subject: `${item.kind} ${item.id.value}`, item }));
        },
      },
      tools,
    );
  },
});

/** Over the ground from what is flown to a zone; 0 above or below it. */
export const distanceToZone = ({ of }: ZoneVisit, zone: Zone, tools: FactTools): Metres => {
  const outline = tools.ask(outlineOfZone, zone);
  if ('leg' in of) return nearestToShape(tools.ask(pathOfLeg, of.leg), outline).distance;
  if (of.item.kind === 'area') return betweenShapes(tools.ask(areaShape, of.item).shape, outline);
  const at = tools.ask(itemPlace, of.item);
  return metres(nearestToShape(legPath(at, at), outline).distance);
};

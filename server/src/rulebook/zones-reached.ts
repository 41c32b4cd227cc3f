import { contingencyZones, courseOfVisit, distanceToZone } from '../facts/contingency-zones.ts';
import { type CourseVolume, courseVolume } from '../facts/course-volume.ts';
import type { FactTools } from '../facts/fact.ts';
import { NotAssessed } from '../facts/fact.ts';
import type { ZoneVisit } from '../facts/zone-visits.ts';
import type { Flight } from '../plan/model.ts';
import type { Metres } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import { coverages, coveringOf } from './authorised.ts';
import type { Complaint } from './finding.ts';
import { saySideways, VOLUME_GUIDANCE } from './say-volume.ts';
import { sayZone, type ZoneDuty, zoneDuty } from './zone-law.ts';

interface Reached {
  readonly visit: ZoneVisit;
  readonly distance: Metres;
  readonly volume: CourseVolume;
}

const nearest = (zone: Zone, visits: readonly ZoneVisit[], tools: FactTools): Reached | undefined => {
  let best: Reached | undefined;
  for (const visit of visits) {
    const distance = distanceToZone(visit, zone, tools);
    if (best !== undefined && distance >= best.distance - 1e-6) continue;
    best = { visit, distance, volume: courseVolume(courseOfVisit(visit), tools) };
  }
  return best;
};

const sayReach = ({ visit, distance, volume }: Reached, zone: Zone): string =>
  distance > 0
    ? `${visit.subject} passes ${sayMetresAgainst(distance, volume.beside)} beside ${sayZone(zone)}, and its contingency volume reaches ${saySideways(volume, distance)}`
    : `${visit.subject} stays below ${sayZone(zone)}, and its contingency volume reaches ${sayNumber(volume.above)} m higher than it is flown, at ${sayNumber(volume.speed)} m/s`;

const complaintOf = (reached: Reached, zone: Zone, duty: ZoneDuty, others: readonly ZoneVisit[]): Complaint => {
  const { visit, distance, volume } = reached;
  const more = others.length > 0 ? ` (with ${sayCount(others.length, 'more place')})` : '';
  return {
    at: visit.written,
    subject: `zone ${zone.id}`,
    message: `${sayReach(reached, zone)} by ${VOLUME_GUIDANCE}${more}; inside, ${duty.law} requires ${duty.asks}`,
    ...(distance > 0
      ? {
          measured: { value: distance, unit: 'm' as const, frame: 'over ground' as const },
          limit: { value: volume.beside, unit: 'm' as const, frame: 'over ground' as const, setBy: VOLUME_GUIDANCE },
        }
      : {}),
    place: { at: visit.at, ...(visit.intervals?.[0] === undefined ? {} : { alongM: visit.intervals[0].from }) },
    related: others.map((other) => ({ at: other.written, message: `the volume of ${other.subject} reaches it, too` })),
  };
};

export interface ZonesReached {
  readonly complaints: readonly Complaint[];
  readonly lacking: readonly Missing[];
}

/**
 * Zones that ask for leave and that the flight does not enter, but its contingency volume reaches, each told at the nearest
 * place. A zone whose authorisation covers the flight beside it may be entered.
 */
export const zonesReached = (flight: Flight, tools: FactTools): ZonesReached => {
  const { ruleSet } = tools;
  if (ruleSet === undefined) throw new NotAssessed('the rule set is not known');
  const found = tools.ask(contingencyZones, flight);
  const lacking: Missing[] = [];
  const complaints: Complaint[] = [];
  for (const zone of found.zones) {
    const duty = zoneDuty(zone.zone, ruleSet);
    // A zone that bars take-off and landing only may be flown through.
    if (duty?.level !== 'stop' || zone.zone.bars !== undefined) continue;
    if (zone.untold !== undefined) lacking.push(zone.untold);
    const asked = coverages(zone, tools);
    if (coveringOf(asked) !== undefined) continue;
    const untold = asked.find((one) => one.lacking !== undefined)?.lacking;
    if (untold !== undefined) {
      const missing = `whether an authorisation covers ${sayZone(zone.zone)} cannot be told: ${untold.missing}`;
      lacking.push({ ...untold, missing });
      continue;
    }
    const worst = nearest(zone.zone, zone.visits, tools);
    if (worst === undefined) continue;
    const others = zone.visits.filter((visit) => visit !== worst.visit);
    complaints.push(complaintOf(worst, zone.zone, duty, others));
  }
  return { complaints, lacking: [...lacking, ...found.lacking] };
};

import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { flightZones, type ZoneVisit, type ZoneVisits } from '../facts/zone-visits.ts';
import { totalLength } from '../geo/interval.ts';
import { type Coverage, coverages, coveringOf } from '../rulebook/authorised.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayZone, zoneDuty } from '../rulebook/zone-law.ts';
import { sayCount, sayDistance } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** "for 240 m": over all legs that enter the zone. */
const sayStretch = ({ visits }: ZoneVisits): string => {
  const metres = visits.reduce((sum, visit) => sum + totalLength(visit.intervals ?? []), 0);
  return metres > 0 ? ` for ${sayDistance(metres)}` : '';
};

/** In a zone that bars take-off and landing only, flying through asks nothing. */
const visitsThatCount = ({ zone, visits }: ZoneVisits): readonly ZoneVisit[] =>
  zone.bars === undefined
    ? visits
    : visits.filter(({ of }) => 'item' in of && (of.item.kind === 'take-off' || of.item.kind === 'land'));

const sayCoverage = ({ authorisation, mismatch, lacking }: Coverage): string =>
  `authorisation "${authorisation.number?.value ?? 'without a number'}" ${mismatch ?? (lacking === undefined ? 'covers it' : 'could not be compared')}`;

export default defineRule({
  visits: 'flight',
  title: 'the flight enters airspace without an authorisation that covers it',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Around airports and over sensitive places other aircraft fly low, or somebody has good reason to keep the air free. Whoever enters without asking meets them unannounced. Asking is usually quick; not knowing about the zone is the commonest breach.',
  condition:
    'Each leg, area, climb and descent is worked out in three dimensions against every zone of the airspace files that is active in the window. Inside a zone that needs it the plan has an authorisation for that zone which covers the time and the height, inside its own area where it has one, and is held by somebody of this crew.',
  exceptions:
    'Class G needs no authorisation, class E only where it is the surface area of an airport. A flight exactly at the floor of a zone is below it, exactly at its ceiling inside it. An authorisation may name a grid of cells, each with the height up to which flights are granted there: then the flight is below that in every cell it enters, and a height of zero grants nothing. A zone that bars take-off and landing only may be flown through.',
  mend: 'Lead the route around or under the zone, or ask the authority of the zone and write the answer into `authorisations` with number, zone, height and times.',
  sources: [
    {
      cite: '49 U.S.C. 44809(a)(5) and (6)',
      edition: '2018, with amendments read up to 2026-11-25',
      for: ['us-recreational'],
    },
    { cite: '14 CFR 107.41, 107.45', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 15, UAS.OPEN.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    {
      cite: '(EU) 2019/947 Art. 15, UAS.SPEC.060(1)',
      edition: '2026-10-10',
      trust: 'from memory',
      for: ['eu-specific'],
    },
    { cite: '(EU) 2021/664 Art. 6', edition: '2021', trust: 'from memory', for: ['eu-open'] },
  ],
  ask: { whom: 'air traffic control, or whoever manages the zone', kind: 'airspace' },
  needs: ['airspace', 'terrain', 'weather'],
  waivable: ['14 CFR 107.41'],
  example: {
    faulty: 'title: Towards the tower\n',
    sound:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot }]\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 130 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 130 m } }]\n',
  },

  *check(flight, tools) {
    const { ruleSet } = tools;
    if (ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    const found = tools.ask(flightZones, flight);
    const lacking: Missing[] = [];
    for (const zone of found.zones) {
      const duty = zoneDuty(zone.zone, ruleSet);
      const [first, ...more] = visitsThatCount(zone);
      if (duty === undefined || first === undefined) continue;
      if (zone.untold !== undefined) lacking.push(zone.untold);
      const asked = coverages({ ...zone, visits: [first, ...more] }, tools);
      const covering = coveringOf(asked);
      const untold = covering === undefined ? asked.find((one) => one.lacking !== undefined)?.lacking : undefined;
      if (untold !== undefined) {
        lacking.push({
          ...untold,
          missing: `whether an authorisation covers ${sayZone(zone.zone)} cannot be told: ${untold.missing}`,
        });
        continue;
      }
      const why =
        asked.length === 0 ? 'and the plan has no authorisation for it' : `and ${asked.map(sayCoverage).join('; ')}`;
      yield {
        found: {
          at: first.written,
          level: duty.level,
          subject: `zone ${zone.zone.id}`,
          message: `${first.subject} ${zone.zone.bars === undefined ? 'enters' : 'is inside'} ${sayZone(zone.zone)}${zone.zone.bars === undefined ? sayStretch(zone) : `, which bars ${zone.zone.bars}`}${more.length > 0 ? ` (with ${sayCount(more.length, 'more place')})` : ''}, ${why}; ${duty.law} requires ${duty.asks}`,
          place: { at: first.at, ...(first.intervals?.[0] === undefined ? {} : { alongM: first.intervals[0].from }) },
          ...(first.intervals === undefined
            ? {}
            : { intervals: first.intervals.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to })) }),
          related: [
            ...(zone.zone.text === undefined || zone.zone.kind === 'house'
              ? []
              : [{ at: first.written, message: `the authority says of ${sayZone(zone.zone)}: "${zone.zone.text}"` }]),
            ...more.map((visit) => ({ at: visit.written, message: `${visit.subject} is inside it, too` })),
            ...asked.map((one) => ({ at: one.authorisation.span, message: sayCoverage(one) })),
          ],
          ...(covering === undefined
            ? {}
            : {
                liftedBy: { kind: 'authorisation' as const, name: covering.number?.value ?? '', span: covering.span },
              }),
        },
      };
    }
    requireWhole({ lacking: [...lacking, ...found.lacking] });
  },
});

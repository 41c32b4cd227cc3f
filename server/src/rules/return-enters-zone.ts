import { type FactTools, NotAssessed } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { fieldOf } from '../facts/lost-link.ts';
import { flightRestrictions, knownNotices } from '../facts/restrictions.ts';
import { returnRestrictions, returnZones } from '../facts/return-zones.ts';
import { type FlightZones, flightZones, type ZoneVisits } from '../facts/zone-visits.ts';
import type { Flight } from '../plan/model.ts';
import { coverages, coveringOf } from '../rulebook/authorised.ts';
import type { Complaint, Level } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayZone, zoneDuty } from '../rulebook/zone-law.ts';
import { sayCount } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** What entering a zone asks, and what it is called in a message. */
interface Asked {
  readonly zone: ZoneVisits;
  readonly level: Level;
  readonly name: string;
  /** Finishes the message: "14 CFR 107.41 requires ...". */
  readonly says: string;
}

/** Zones that the flight enters itself without leave have a finding of their own. */
const toldOf = (zones: readonly ZoneVisits[], tools: FactTools): ReadonlySet<object> =>
  new Set(
    zones
      .filter((zone) => zone.zone.bars === undefined && coveringOf(coverages(zone, tools)) === undefined)
      .map(({ zone }) => zone.layerOf ?? zone),
  );

const ofAirspace = (found: FlightZones, tools: FactTools): readonly Asked[] =>
  found.zones.flatMap((zone): readonly Asked[] => {
    if (tools.ruleSet === undefined || zone.zone.bars !== undefined) return [];
    const duty = zoneDuty(zone.zone, tools.ruleSet);
    if (duty === undefined) return [];
    return [{ zone, level: duty.level, name: sayZone(zone.zone), says: `${duty.law} requires ${duty.asks}` }];
  });

const ofNotices = (found: FlightZones, { ask, plan }: FactTools): readonly Asked[] =>
  found.zones.flatMap((zone): readonly Asked[] => {
    const notice = ask(knownNotices, plan).find(({ zones }) => zones.includes(zone.zone));
    // What a notice restricts and nobody can tell where, is told of the route.
    if (notice === undefined || notice.bounds !== undefined) return [];
    const isDanger = zone.zone.kind === 'danger';
    const says = isDanger ? 'whoever flies there has to know what goes on' : 'it requires leave of whoever issued it';
    return [{ zone, level: isDanger ? 'caution' : 'stop', name: `notice "${notice.name}"`, says }];
  });

const complaint = ({ zone, level, name, says }: Asked, flight: Flight, tools: FactTools): Complaint | Missing => {
  const asked = coverages(zone, tools);
  const covering = coveringOf(asked);
  const untold = covering === undefined ? asked.find((one) => one.lacking !== undefined)?.lacking : undefined;
  if (untold !== undefined)
    return { missing: `whether an authorisation covers ${name} cannot be told: ${untold.missing}` };
  const [first, ...more] = zone.visits;
  const { lostLink } = tools.plan;
  if (first === undefined || lostLink === undefined) return { missing: 'the zone is not visited' };
  const others = new Set(more.map(({ subject }) => subject).filter((subject) => subject !== first.subject)).size;
  const held = asked.map(
    ({ authorisation, mismatch }) =>
      `authorisation "${authorisation.number?.value ?? 'without a number'}" ${mismatch ?? 'covers it'}`,
  );
  return {
    at: fieldOf(lostLink),
    level,
    subject: `the way home of flight ${flight.number} in zone ${zone.zone.id}`,
    message: `after a lost link on ${first.subject}${others > 0 ? ` (with ${sayCount(others, 'more leg or area', 'more legs and areas')})` : ''} the way back enters ${name}, ${held.length === 0 ? 'and the plan has no authorisation for it' : `and ${held.join('; ')}`}; ${says}`,
    place: { at: first.at },
    related: [
      { at: first.written, message: `the way back from ${first.subject}` },
      ...asked.map(({ authorisation }) => ({ at: authorisation.span, message: 'this authorisation names the zone' })),
    ],
    ...(covering === undefined
      ? {}
      : { liftedBy: { kind: 'authorisation' as const, name: covering.number?.value ?? '', span: covering.span } }),
  };
};

export default defineRule({
  visits: 'flight',
  title: 'after a lost link the aircraft flies back through airspace without leave',
  question: 'Will it come home?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'A route can be led around a zone, or under it, and the way back cuts the corner or climbs into it. Whoever is in the zone meets an aircraft that nobody steers.',
  condition:
    'Neither the climb to `climb-to` nor the straight way back, from every place of the route and of every hand-flown area, enters a zone of the airspace files or of a notice that is active in the window, unless an authorisation covers it at that height.',
  exceptions:
    'A zone that the flight enters itself without leave is told by `zone-entered-unauthorised` or `restriction-entered` only. Zones that bar take-off and landing may be flown through. Cells of a grid are looked up under the route.',
  mend: 'Lower the height to climb to below the zone, lead the route so that the way back stays out of it, or have the authorisation cover the way back.',
  sources: [
    {
      cite: '49 U.S.C. 44809(a)(5) and (6)',
      edition: '2018, with amendments read up to 2026-11-25',
      for: ['us-recreational'],
    },
    { cite: '14 CFR 107.41, 107.45, 107.47', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 15, UAS.OPEN.060(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
  ],
  ask: { whom: 'air traffic control, or whoever manages the zone', kind: 'airspace' },
  needs: ['airspace', 'terrain'],
  waivable: ['14 CFR 107.41'],
  besideRoute: true,
  example: {
    faulty: 'lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }\n',
    sound: 'lost-link: { after: 5 s, climb-to: 65 m above take-off, then: fly back and land }\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: 470 m AMSL, ceiling: 900 m AMSL, circle: { at: [-120.499, 47.5], radius: 500 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: 470 m AMSL, ceiling: 900 m AMSL, circle: { at: [-120.499, 47.5], radius: 500 m } }]\n',
  },

  *check(flight, tools) {
    if (tools.plan.lostLink === undefined) return;
    if (tools.ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    const lacking: Missing[] = [];
    const zones = tools.ask(returnZones, flight);
    if (zones === undefined) return;
    const restrictions = tools.ask(returnRestrictions, flight);
    const told = new Set([
      ...toldOf(tools.ask(flightZones, flight).zones, tools),
      ...toldOf(tools.ask(flightRestrictions, flight).zones, tools),
    ]);
    const own = new Set(tools.ask(flightZones, flight).zones.map(({ zone }) => zone.layerOf ?? zone));
    const all = [...ofAirspace(zones, tools), ...(restrictions === undefined ? [] : ofNotices(restrictions, tools))];
    for (const asked of all) {
      const { zone } = asked;
      if (told.has(zone.zone.layerOf ?? zone.zone)) continue;
      if (zone.untold !== undefined) lacking.push(zone.untold);
      const found = orLacking(() => complaint(asked, flight, tools));
      if ('missing' in found) lacking.push(found);
      else if ('missing' in found.known) lacking.push(found.known);
      // Leave that the flight itself needs, and that holds on the way back, is listed there.
      else if (found.known.liftedBy === undefined || !own.has(zone.zone.layerOf ?? zone.zone))
        yield { found: found.known };
    }
    requireWhole({ lacking: [...lacking, ...zones.lacking, ...(restrictions?.lacking ?? [])] });
  },
});

import { distanceToZone } from '../facts/contingency-zones.ts';
import { requireWhole } from '../facts/lacking.ts';
import { zonesBeside } from '../facts/zones-beside.ts';
import { HOUSE, sayReason, setHere } from '../rulebook/house.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayZone, zoneDuty } from '../rulebook/zone-law.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'the flight passes a zone nearer than the house allows',
  question: 'May I fly here?',
  level: 'stop',
  basis: 'practice',
  why: 'Wind, a slow hand and an inexact position take an aircraft aside. Beside the edge of a zone there is no room for that.',
  condition:
    'Where the settings have `zone-margin`, each leg, hand-flown area, take-off and landing keeps at least that distance over the ground from every zone that asks for leave and that reaches to the heights flown there.',
  exceptions: 'A zone that the flight enters is judged by its own rule, with the authorisation for it.',
  mend: 'Lead the route farther from the zone, or below it.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['airspace', 'terrain'],
  example: {
    faulty: 'title: Beside the tower\n',
    sound: 'title: Farther from the tower\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.49, 47.5], radius: 300 m } }]\nsettings: |\n  settings: 1\n  limits: { zone-margin: { is: 400 m, because: drift } }\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.49, 47.5], radius: 300 m } }]\nsettings: |\n  settings: 1\n  limits: { zone-margin: { is: 200 m, because: drift } }\n',
  },

  *check(flight, tools) {
    const { settings, ruleSet } = tools;
    const house = settings.limits.zoneMargin;
    if (house === undefined || ruleSet === undefined) return;
    const least = house.value.value;
    const found = zonesBeside(flight, least, tools);
    for (const { zone, visits } of found.zones) {
      const duty = zoneDuty(zone, ruleSet);
      if (duty?.level !== 'stop' || zone.bars !== undefined) continue;
      const near = visits.map((visit) => ({ visit, distance: distanceToZone(visit, zone, tools) }));
      const [first, ...more] = near.sort((one, other) => one.distance - other.distance);
      if (first === undefined || !fallsShortOf(first.distance, least)) continue;
      const others = more.filter(({ distance }) => fallsShortOf(distance, least));
      yield {
        found: {
          at: first.visit.written,
          subject: `zone ${zone.id}`,
          message: `${first.visit.subject} passes ${sayMetresAgainst(first.distance, least)} beside ${sayZone(zone)}${others.length > 0 ? ` (with ${sayCount(others.length, 'more place')})` : ''}; ${HOUSE} asks for at least ${sayNumber(least)} m${sayReason(house)}`,
          measured: { value: metres(first.distance), unit: 'm', frame: 'over ground' },
          limit: { value: least, unit: 'm', frame: 'over ground', setBy: HOUSE },
          place: { at: first.visit.at },
          related: [setHere(house)],
        },
      };
    }
    requireWhole(found);
  },
});

import { lackingOnDay } from '../facts/due.ts';
import { NotAssessed } from '../facts/fact.ts';
import { flightZones } from '../facts/zone-visits.ts';
import { coverages, coveringOf } from '../rulebook/authorised.ts';
import { defineRule } from '../rulebook/rule.ts';
import { zoneDuty } from '../rulebook/zone-law.ts';

export default defineRule({
  visits: 'flight',
  title: 'an authorisation has conditions, and nobody has said that they are met',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'An authorisation holds under its conditions only. They are written in words that no program can check: a call to the tower, a light, a second pair of eyes. Forgotten, they make an authorised flight an unauthorised one.',
  condition:
    'Each authorisation that lifts something in this plan has no conditions, or a preflight statement of the crew covers this rule.',
  mend: 'On the day, when the conditions are met, say so: `preflight: [{ covers: [authorisation-condition-unstated], seen: DATE, by: pilot }]`.',
  sources: [
    { cite: '14 CFR 107.200(d)', edition: '2026-01-01', trust: 'from memory', for: ['us-part-107'] },
    { cite: '49 U.S.C. 44809(a)(5)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '(EU) 2019/947 Art. 15', edition: '2026-10-10', trust: 'from memory', for: ['eu-open', 'eu-specific'] },
  ],
  needs: ['airspace', 'terrain'],
  declarable: true,
  example: {
    faulty:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, conditions: [call the tower] }]\n',
    sound:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, conditions: [call the tower] }]\npreflight: [{ covers: [authorisation-condition-unstated], seen: 2026-06-14, by: pilot }]\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 130 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 130 m } }]\n',
  },

  *check(flight, tools) {
    const { ruleSet, plan } = tools;
    if (ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    if (plan.authorisations.every(({ conditions }) => conditions.length === 0)) return;
    for (const zone of tools.ask(flightZones, flight).zones) {
      if (zoneDuty(zone.zone, ruleSet) === undefined) continue;
      const covering = coveringOf(coverages(zone, tools));
      const [first, ...more] = covering?.conditions ?? [];
      if (covering === undefined || first === undefined) continue;
      const others = more.map(({ value }) => `, "${value}"`).join('');
      throw lackingOnDay(
        plan,
        `authorisation "${covering.number?.value ?? ''}" holds on condition "${first.value}"${others}; that it is met can be stated in preflight`,
      );
    }
  },
});

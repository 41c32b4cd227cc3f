import { judgeAge } from '../rulebook/data-age.ts';
import { defineRule } from '../rulebook/rule.ts';

/** Airspace is published anew every 28 days (ICAO Annex 15, from memory). Common practice for when to fetch it again. */
const CYCLE = 28;

export default defineRule({
  visits: 'plan',
  title: 'the airspace data are older than a cycle of publication',
  question: 'May I fly here?',
  level: 'caution',
  basis: 'practice',
  why: 'Zones move, and new ones are published every four weeks. A flight that keeps out of the zones of last season can enter one of this.',
  condition:
    'Each airspace file of the plan was retrieved not more than 28 days before the flight begins, or than what the house has set (`airspace-age`). Where neither the file nor the plan says when that was, the age is not known.',
  mend: 'Fetch the file again from its publisher and let `retrieved` in it say when, or in the plan: `{ file: ..., retrieved: DATE }`.',
  sources: [
    { cite: 'the cycle of 28 days, ICAO Annex 15', edition: 'not dated', trust: 'from memory' },
    { cite: 'fetching airspace once a cycle', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: ['airspace'],
  example: {
    faulty: 'restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }\n',
    sound: 'restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }\n',
    world:
      'settings: |\n  settings: 1\n  limits: { airspace-age: { is: 1 d, because: the tower moves its zones often } }\n',
  },

  check: (plan, tools) =>
    judgeAge(
      plan,
      { kind: 'airspace', noun: 'airspace', days: CYCLE, house: tools.settings.limits.airspaceAge },
      tools,
    ),
});

import { judgeAge } from '../rulebook/data-age.ts';
import { defineRule } from '../rulebook/rule.ts';

/** Aerodrome data are published anew every 28 days (ICAO Annex 15, from memory). Common practice for when to fetch them again. */
const CYCLE = 28;

export default defineRule({
  visits: 'plan',
  title: 'the runway data are older than a cycle of publication',
  question: 'May I fly here?',
  level: 'caution',
  basis: 'practice',
  why: 'Runways are lengthened, renamed and opened. The zones around their ends move with them, and entering one is a crime in the United States.',
  condition:
    'Each runway file of the plan was retrieved not more than 28 days before the flight begins, or than what the house has set (`runways-age`). Where neither the file nor the plan says when that was, the age is not known.',
  mend: 'Fetch the file again from its publisher and let `retrieved` in it say when, or in the plan: `{ file: ..., retrieved: DATE }`.',
  sources: [
    { cite: 'the cycle of 28 days, ICAO Annex 15', edition: 'not dated', trust: 'from memory' },
    { cite: 'fetching runways once a cycle', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: ['runways'],
  example: {
    faulty: 'runways: [old.geojson]\n',
    sound: 'runways: [new.geojson]\n',
    world:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-04-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
    soundWorld:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-04-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
  },

  check: (plan, tools) =>
    judgeAge(
      plan,
      { kind: 'runways', noun: 'runway file', days: CYCLE, house: tools.settings.limits.runwaysAge },
      tools,
    ),
});

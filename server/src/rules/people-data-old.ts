import { judgeAge } from '../rulebook/data-age.ts';
import { defineRule } from '../rulebook/rule.ts';

/** Houses and roads change within a year. Common practice, no source. */
const MOST_DAYS = 365;

export default defineRule({
  visits: 'plan',
  title: 'the data about people and land use are older than a year',
  question: 'Over people?',
  level: 'caution',
  basis: 'practice',
  why: 'Where the file has a field there may be houses by now, a camp site or a new road. A flight over them is planned as one over nobody.',
  condition:
    'Each people file of the plan was retrieved not more than 365 days before the flight begins, or than what the house has set (`people-age`). Where neither the file nor the plan says when that was, the age is not known.',
  mend: 'Fetch or draw the areas again and let `retrieved` in the file say when, or in the plan: `{ file: ..., retrieved: DATE }`.',
  sources: [{ cite: 'looking at land use once a year', edition: '2026-11-25', trust: 'common practice, no source' }],
  needs: ['people'],
  example: {
    faulty:
      'people: { none-within: 500 m, no-areas-within: 500 m, seen: 2026-06-12, by: pilot, files: [old.geojson] }\n',
    sound:
      'people: { none-within: 500 m, no-areas-within: 500 m, seen: 2026-06-12, by: pilot, files: [new.geojson] }\n',
    world:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2025-06-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
    soundWorld:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2025-06-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
  },

  check: (plan, tools) =>
    judgeAge(
      plan,
      { kind: 'people', noun: 'people file', days: MOST_DAYS, house: tools.settings.limits.peopleAge },
      tools,
    ),
});

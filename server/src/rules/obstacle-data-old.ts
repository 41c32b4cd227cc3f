import { judgeAge } from '../rulebook/data-age.ts';
import { defineRule } from '../rulebook/rule.ts';

/** Two cycles of 28 days, in which a list of obstacles is published anew. Common practice, no source. */
const MOST_DAYS = 56;

export default defineRule({
  visits: 'plan',
  title: 'the obstacle data are older than two cycles of publication',
  question: 'Does it hit anything?',
  level: 'caution',
  basis: 'practice',
  why: 'A crane or a mast goes up in a day. A list from last season does not have it, and the crew believes that the leg is free.',
  condition:
    'Each obstacle file of the plan was retrieved not more than 56 days before the flight begins, or than what the house has set (`obstacles-age`). Where neither the file nor the plan says when that was, the age is not known.',
  mend: 'Fetch the file again and let `retrieved` in it say when, or in the plan: `{ file: ..., retrieved: DATE }`.',
  sources: [
    { cite: 'fetching obstacles every second cycle', edition: '2026-11-25', trust: 'common practice, no source' },
  ],
  needs: ['obstacles'],
  example: {
    faulty: 'obstacles: { files: [old.geojson] }\n',
    sound: 'obstacles: { files: [new.geojson] }\n',
    world:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-04-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
    soundWorld:
      'files:\n  old.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-04-01T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n  new.geojson: \'{ "type": "FeatureCollection", "retrieved": "2026-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }\'\n',
  },

  check: (plan, tools) =>
    judgeAge(
      plan,
      { kind: 'obstacles', noun: 'obstacle file', days: MOST_DAYS, house: tools.settings.limits.obstaclesAge },
      tools,
    ),
});

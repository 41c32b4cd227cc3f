import { judgeAge } from '../rulebook/data-age.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the terrain data are older than the house allows',
  question: 'Does it hit anything?',
  level: 'caution',
  basis: 'practice',
  why: 'Ground hardly moves, but quarries, dams, heaps and slides do. Who flies low over such ground sets a limit for the age of its heights.',
  condition:
    'Where the house has set one (`terrain-age`), each terrain raster was retrieved not longer than that before the flight begins. Rasters do not say when they were retrieved, so the plan does: `terrain: { file: ..., retrieved: DATE }`. Without a limit of the house nothing is asked: no practice says how old heights of the ground may be.',
  mend: 'Get the heights of a newer survey, and write into the plan when: `terrain: { file: ..., retrieved: DATE }`.',
  sources: [
    {
      cite: 'a limit for the age of terrain data is for the house to set',
      edition: '2026-11-25',
      trust: 'common practice, no source',
    },
  ],
  needs: ['terrain'],
  example: {
    faulty: 'terrain: { file: ground.tif, retrieved: 2024-01-01 }\n',
    sound: 'terrain: { file: ground.tif, retrieved: 2026-06-01 }\n',
    world: 'settings: |\n  settings: 1\n  limits: { terrain-age: { is: 365 d, because: the quarry grows } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { terrain-age: { is: 365 d, because: the quarry grows } }\n',
  },

  check: (plan, tools) =>
    judgeAge(plan, { kind: 'terrain', noun: 'terrain', house: tools.settings.limits.terrainAge }, tools),
});

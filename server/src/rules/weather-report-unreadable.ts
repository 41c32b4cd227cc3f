import { defineRule } from '../rulebook/rule.ts';
import { sayList } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'a weather report could not be read',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'A group with a slip in it may be the one that says fog. What was not understood is not taken for fine weather: it is told here, and what hangs on it is not assessed.',
  condition:
    'Each report begins as a METAR, SPECI or TAF does, with its station and its time, was not cancelled, and each of its groups has a form that is known. Remarks are passed over.',
  mend: 'Paste the report as it was received, or write the values by hand.',
  sources: [{ cite: 'WMO No. 306, FM 15 METAR and FM 51 TAF', edition: '2019', trust: 'from memory' }],
  needs: ['weather'],
  example: {
    faulty:
      'weather:\n  metar: KZZU 141255Z 24006KT 11/2SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
    sound:
      'weather:\n  metar: KZZU 141255Z 24006KT 1 1/2SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
  },

  *check(_, { world }) {
    for (const { at, name, report, refused } of world.reports ?? []) {
      if (refused !== undefined) {
        yield { found: { at, subject: `report ${name}`, message: `the report "${name}" ${refused}` } };
        continue;
      }
      const groups = (report?.unread ?? []).filter(({ why }) => why === 'not understood');
      if (groups.length === 0) continue;
      const quoted = sayList([...new Set(groups.map(({ group }) => `"${group}"`))]);
      const was = groups.length === 1 ? 'was' : 'were';
      yield { found: { at, subject: `report ${name}`, message: `${quoted} in ${name} ${was} not understood` } };
    }
  },
});

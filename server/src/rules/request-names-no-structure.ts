import { requireWhole } from '../facts/lacking.ts';
import { knownObstacles } from '../facts/obstacles.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'a request to fly near a structure names none of the plan',
  question: 'How high?',
  level: { 'eu-open': 'note' },
  basis: 'law',
  why: 'The request of whoever answers for an obstacle lets an aircraft be higher near it. A request that names nothing in the plan lifts nothing: the flight is judged as if it were not there, and nobody would see why.',
  condition:
    'Each `for:` in the requests of the obstacles is the name of an obstacle of the plan or its files, and that is marked as a structure.',
  mend: 'Write the name as the obstacle has it, list the obstacle, or mark it with `structure: yes`.',
  otherReading:
    'Height of an obstacle can be that above its own foot, or that of its top above the ground around. This tool compares tops and aircraft above the sea, which gives the same on a slope as on the flat.',
  sources: [{ cite: '(EU) 2019/947 UAS.OPEN.010(3)', edition: '2026-10-10' }],
  needs: [],
  example: {
    faulty:
      'country: FR\ncategory: A3\nobstacles: { listed: [{ name: mast, at: { lat: 47.51, lon: -120.49 }, top: 110 m AGL, structure: yes }], requests: [{ for: mats, of: mast owner, given: 2026-06-02 }] }\n',
    sound:
      'country: FR\ncategory: A3\nobstacles: { listed: [{ name: mast, at: { lat: 47.51, lon: -120.49 }, top: 110 m AGL, structure: yes }], requests: [{ for: mast, of: mast owner, given: 2026-06-02 }] }\n',
  },

  *check(plan, { ask }) {
    const requests = plan.obstacles?.kind === 'list' ? plan.obstacles.requests : [];
    if (requests.length === 0) return;
    const known = ask(knownObstacles, plan);
    let open = false;
    for (const { for: name } of requests) {
      if (name === undefined) continue;
      const named = known.obstacles.filter((obstacle) => obstacle.name === name.value);
      if (named.some(({ structure }) => structure === true)) continue;
      // What could not be read may be the one that is named.
      if (named.length === 0 && known.lacking.length > 0) {
        open = true;
        continue;
      }
      const what =
        named.length === 0
          ? 'names no obstacle of the plan or its files'
          : 'names an obstacle that is not marked as a structure';
      yield {
        found: {
          at: name.span,
          subject: `the request for ${name.value}`,
          message: `the request for "${name.value}" ${what}, so it lets nothing be higher; (EU) 2019/947 UAS.OPEN.010(3) speaks of the obstacle that the request is for`,
        },
      };
    }
    if (open) requireWhole(known);
  },
});

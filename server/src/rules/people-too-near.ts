import { orLacking, requireWhole } from '../facts/lacking.ts';
import { peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { flightCourses, type PeopleWay, peoplePasses } from '../facts/people-passes.ts';
import { type A2Limit, a2Limit, isUninvolved } from '../rulebook/people-distance.ts';
import { sayPeople } from '../rulebook/people-law.ts';
import { defineRule } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

const LAW = '(EU) 2019/947 UAS.OPEN.030(1)';

export default defineRule({
  visits: 'flight',
  title: 'the flight comes nearer to people than A2 allows',
  question: 'Over people?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'A2 is the subcategory for flight near people with an aircraft that can hurt them. The distance is what an aircraft that leaves its way needs to be stopped or to come down beside them.',
  condition:
    'With `category: A2` each leg, hand-flown area and hold keeps 30 m (98.4 ft) horizontally from people who take no part; 5 m (16.4 ft) where it is flown at no more than 3 m/s in low-speed mode, the aircraft has that mode, and the pilot has evaluated weather, performance and segregation. A distance exactly at the limit is within it. Where the crew has stated that nobody is near, that distance is compared.',
  exceptions: 'Areas that the flight is over have a finding of their own. Traffic on a road is a caution.',
  mend: 'Keep the distance, or fly slowly in low-speed mode and write down what was evaluated: `low-speed-mode: { evaluated: [weather, performance, segregation], by: pilot }` under `people`.',
  sources: [
    { cite: LAW, edition: '2026-10-10' },
    { cite: '(EU) 2019/945 Annex Part 3, low-speed mode of 3 m/s', edition: '2020', trust: 'from memory' },
  ],
  needs: ['people', 'aircraft'],
  declarable: true,
  example: {
    faulty:
      'country: AT\ncategory: A2\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5005, lon: -120.499 } } }] }\n',
    sound:
      'country: AT\ncategory: A2\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.502, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    const { plan } = tools;
    if (plan.category?.value !== 'A2') return;
    saidOfPeople(plan);
    const { passes, lacking } = tools.ask(peoplePasses, flight);
    const unknown: Missing[] = [...lacking];
    for (const { area, ways } of passes) {
      if (!isUninvolved(area) || ways.some(({ distance }) => !(distance > 0))) continue;
      let worst: { readonly way: PeopleWay; readonly limit: A2Limit } | undefined;
      for (const way of ways) {
        const limit = orLacking(() => a2Limit(way, tools));
        if ('missing' in limit) unknown.push(limit);
        else if (!fallsShortOf(way.distance, limit.known.distance)) continue;
        else if (worst === undefined || way.distance < worst.way.distance - 1e-6) worst = { way, limit: limit.known };
      }
      if (worst === undefined) continue;
      const { way, limit } = worst;
      yield {
        found: {
          at: way.written,
          ...(area.kind === 'road' ? { level: 'caution' as const } : {}),
          subject: `people at ${area.name}`,
          message: `${way.subject} comes within ${sayMetresAgainst(way.distance, limit.distance)} of ${sayPeople(area)}; ${LAW} asks at least ${sayNumber(limit.distance)} m here${limit.why === undefined ? '' : ` because ${limit.why}`}`,
          measured: { value: way.distance, unit: 'm', frame: 'over ground' },
          limit: { value: limit.distance, unit: 'm', frame: 'over ground', setBy: LAW },
          place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
          related: area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }],
        },
      };
    }
    const stated = peopleStated(plan);
    if (stated?.noneWithin !== undefined) {
      const { noneWithin } = stated;
      const short = tools.ask(flightCourses, flight).courses.flatMap((course): Missing[] => {
        const limit = orLacking(() => a2Limit(course, tools));
        if ('missing' in limit) return [limit];
        if (!fallsShortOf(noneWithin, limit.known.distance)) return [];
        const asks = `${LAW} asks at least ${sayNumber(limit.known.distance)} m`;
        return [{ missing: `the crew states only that nobody is within ${sayNumber(noneWithin)} m, and ${asks}` }];
      });
      if (short.length === 0) yield { declared: { at: stated.at, because: stated.because } };
      unknown.push(...short);
    }
    requireWhole({ lacking: unknown });
  },
});

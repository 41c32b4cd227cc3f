import { greatestHeight, reachNear } from '../facts/height-near-people.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { flightCourses, type PeoplePass, type PeopleWay, peoplePasses } from '../facts/people-passes.ts';
import type { Flight } from '../plan/model.ts';
import { a2Limit, guidanceFloor, isUninvolved } from '../rulebook/people-distance.ts';
import { sayPeople } from '../rulebook/people-law.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { type Metres, metres } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

interface Near {
  readonly way: PeopleWay;
  readonly least: Metres;
}

/** The way that falls short of the guidance by most. One that falls short of the law has a finding of its own. */
const nearest = ({ ways }: PeoplePass, floor: Metres, tools: RuleTools): Near | undefined => {
  let worst: Near | undefined;
  for (const way of ways) {
    if (tools.plan.category?.value === 'A2' && fallsShortOf(way.distance, a2Limit(way, tools).distance))
      return undefined;
    const there = reachNear(way, way.outline, way.distance, (height) => metres(Math.max(floor, height)), tools);
    if (there === undefined || !fallsShortOf(way.distance, there.reach)) continue;
    if (worst === undefined || there.reach - way.distance > worst.least - worst.way.distance + 1e-6) {
      worst = { way, least: there.reach };
    }
  }
  return worst;
};

/** That the statement does not reach as far as the guidance asks, wherever the height is known. */
const lackingStatement = (flight: Flight, noneWithin: Metres, floor: Metres, tools: RuleTools): readonly Missing[] =>
  tools.ask(flightCourses, flight).courses.flatMap((course): Missing[] => {
    const height = orLacking(() => greatestHeight(course, tools));
    if ('missing' in height) return [];
    const least = metres(Math.max(floor, height.known));
    if (!fallsShortOf(noneWithin, least)) return [];
    return [
      {
        missing: `the crew states only that nobody is within ${sayNumber(noneWithin)} m, and the guidance asks ${sayNumber(least)} m on ${course.subject}`,
      },
    ];
  });

export default defineRule({
  visits: 'flight',
  title: 'the flight comes nearer to people than the guidance asks',
  question: 'Over people?',
  level: { 'eu-open': 'caution' },
  basis: 'practice',
  why: 'An aircraft that fails comes down about as far away as it is high. Whoever keeps that distance from people does not hit them.',
  condition:
    'A2: the horizontal distance from people who take no part is not less than the height above ground flown there. A3: not less than the greatest of 30 m (98.4 ft), that height, and the way of 2 s at the greatest speed of the aircraft.',
  exceptions: 'Where the flight is over people, or nearer than the law allows in A2, that is a finding of its own.',
  mend: 'Fly lower or farther away.',
  otherReading:
    'Sources disagree whether the height counts below 30 m in A2; the law’s own 30 m and 5 m are judged by `people-too-near`. As far away as high can be read as part of the "safe distance" of the law; here it is guidance.',
  sources: [
    { cite: 'guidance of EASA to (EU) 2019/947 UAS.OPEN.030(1) and 040(1)', edition: '2025', trust: 'secondary copy' },
  ],
  needs: ['people', 'terrain', 'aircraft'],
  declarable: true,
  example: {
    faulty:
      'country: AT\ncategory: A2\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5007, lon: -120.499 } } }] }\n',
    sound:
      'country: AT\ncategory: A2\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.502, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    const { plan } = tools;
    const category = plan.category?.value;
    if (category !== 'A2' && category !== 'A3') return;
    saidOfPeople(plan);
    const { passes, lacking } = tools.ask(peoplePasses, flight);
    const stated = peopleStated(plan);
    const uninvolved = passes.filter(({ area }) => isUninvolved(area));
    if (uninvolved.length === 0 && stated?.noneWithin === undefined) return requireWhole({ lacking });
    const floor = guidanceFloor(tools);
    const unknown: Missing[] = [...lacking];
    for (const pass of uninvolved) {
      const { area, ways } = pass;
      if (ways.some(({ distance }) => !(distance > 0))) continue;
      const near = orLacking(() => nearest(pass, floor, tools));
      if ('missing' in near) unknown.push(near);
      else if (near.known !== undefined) {
        const { way, least } = near.known;
        yield {
          found: {
            at: way.written,
            subject: `people at ${area.name}`,
            message: `${way.subject} comes within ${sayMetresAgainst(way.distance, least)} of ${sayPeople(area)}; the guidance to ${category} asks at least ${sayNumber(least)} m here`,
            measured: { value: way.distance, unit: 'm', frame: 'over ground' },
            limit: { value: least, unit: 'm', frame: 'over ground', setBy: `guidance to ${category}` },
            place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
            related: area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }],
          },
        };
      }
    }
    if (stated?.noneWithin !== undefined) {
      const short = lackingStatement(flight, stated.noneWithin, floor, tools);
      if (short.length === 0) yield { declared: { at: stated.at, because: stated.because } };
      unknown.push(...short);
    }
    requireWhole({ lacking: unknown });
  },
});

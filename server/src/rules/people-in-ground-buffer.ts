import { courseBuffer, courseVolume } from '../facts/course-volume.ts';
import { lackingLook } from '../facts/due.ts';
import { greatestHeight, reachNear } from '../facts/height-near-people.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { peopleStated } from '../facts/people-areas.ts';
import { flightCourses, type PeoplePass, type PeopleWay, peoplePasses } from '../facts/people-passes.ts';
import type { Flight } from '../plan/model.ts';
import { sayPeople } from '../rulebook/people-law.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { VOLUME_FORMULAE, VOLUME_GUIDANCE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import { type Metres, metres } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

interface Within {
  readonly way: PeopleWay;
  readonly reach: Metres;
}

/** The way whose volume and buffer reach farthest into an area; undefined where none does. */
const reachedFrom = ({ ways }: PeoplePass, tools: RuleTools): Within | undefined => {
  let worst: Within | undefined;
  for (const way of ways) {
    const volume = courseVolume(way, tools);
    const reachOf = (height: Parameters<typeof courseBuffer>[1]): Metres =>
      metres(volume.beside + courseBuffer(volume, height, tools));
    const there = reachNear(way, way.outline, way.distance, reachOf, tools);
    if (there === undefined || !fallsShortOf(way.distance, there.reach)) continue;
    if (worst === undefined || there.reach - way.distance > worst.reach - worst.way.distance + 1e-6) {
      worst = { way, reach: there.reach };
    }
  }
  return worst;
};

/** That the crew's look does not reach as far as the buffer, wherever that can be worked out. */
const lackingStatement = (flight: Flight, noneWithin: Metres, tools: RuleTools): Missing | undefined => {
  for (const course of tools.ask(flightCourses, flight).courses) {
    const reach = orLacking(() => {
      const volume = courseVolume(course, tools);
      return metres(volume.beside + courseBuffer(volume, greatestHeight(course, tools), tools));
    });
    if ('missing' in reach || !exceeds(reach.known, noneWithin)) continue;
    return {
      missing: `the crew states that nobody is within ${sayNumber(noneWithin)} m, and the operational volume and ground risk buffer of ${course.subject} reach ${sayNumber(reach.known)} m`,
    };
  }
  return undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'people are on ground that is stated to be under control',
  question: 'Over people?',
  level: { 'eu-specific': 'stop' },
  basis: 'declared',
  why: 'A controlled ground area has the lowest ground risk because nobody is in it who does not take part. It reaches as far as the aircraft may come down: under the operational volume and the ground risk buffer around it.',
  condition: `Where the plan states \`controlled-ground: yes\`, no area with people who take no part, and no residential, commercial, industrial or recreational area, lies within the operational volume and the ground risk buffer. The buffer is as wide as the upper end of the contingency volume is high, and half of the largest dimension (1:1); or V times the square root of 2 × that height / g (ballistic); or the way of a parachute with the wind; or the glide ratio times that height. ${VOLUME_FORMULAE}`,
  exceptions:
    'Where the plan states a density of people the class that follows counts them; what is known of single areas then decides nothing.',
  mend: 'Fly lower, slower or farther away, keep people out of the area, or state the density of people instead of controlled ground.',
  sources: VOLUME_SOURCES,
  needs: ['people', 'terrain', 'aircraft', 'weather'],
  declarable: true,
  example: {
    faulty:
      'country: FR\ncategory: specific\nground-risk: { edition: SORA 2.5, controlled-ground: yes, initial-class: 1 }\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5005, lon: -120.499 } } }] }\n',
    sound:
      'country: FR\ncategory: specific\nground-risk: { edition: SORA 2.5, controlled-ground: yes, initial-class: 1 }\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.503, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    const { plan } = tools;
    if (plan.groundRisk?.controlledGround?.value !== 'yes') return;
    if (plan.people === undefined) throw lackingLook(plan, 'the plan says nothing about people on the ground');
    const { passes, lacking } = tools.ask(peoplePasses, flight);
    const unknown: Missing[] = [...lacking];
    for (const pass of passes) {
      if (pass.area.status === 'participant' || pass.area.kind === 'closed site') continue;
      const within = orLacking(() => reachedFrom(pass, tools));
      if ('missing' in within) unknown.push(within);
      else if (within.known !== undefined) {
        const { way, reach } = within.known;
        yield {
          found: {
            at: way.written,
            subject: `people at ${pass.area.name}`,
            message: `${way.subject} passes ${sayMetresAgainst(way.distance, reach)} beside ${sayPeople(pass.area)}; the operational volume and the ground risk buffer reach ${sayNumber(reach)} m by ${VOLUME_GUIDANCE}, and the plan states controlled ground`,
            measured: { value: way.distance, unit: 'm', frame: 'over ground' },
            limit: { value: reach, unit: 'm', frame: 'over ground', setBy: VOLUME_GUIDANCE },
            place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
            related:
              pass.area.written === undefined ? [] : [{ at: pass.area.written, message: 'the area is listed here' }],
          },
        };
      }
    }
    const stated = peopleStated(plan);
    if (stated?.noneWithin !== undefined) {
      const short = lackingStatement(flight, stated.noneWithin, tools);
      if (short === undefined) yield { declared: { at: stated.at, because: stated.because } };
      else unknown.push(short);
    }
    requireWhole({ lacking: unknown });
  },
});

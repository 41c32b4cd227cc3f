import { NotAssessed } from '../facts/fact.ts';
import { fallReach, fallSpeeds } from '../facts/fall-reach.ts';
import { greatestHeight, reachNear } from '../facts/height-near-people.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { flightCourses, type PeoplePass, type PeopleWay, peoplePasses } from '../facts/people-passes.ts';
import type { Flight } from '../plan/model.ts';
import { categoryMismatch, claimedCategory } from '../rulebook/people-category.ts';
import { isLandUse, overflightDuty, sayPeople } from '../rulebook/people-law.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import type { Metres, MetresAboveGround } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** The way from which a falling craft reaches farthest into an area; undefined where none reaches it. */
interface Within {
  readonly way: PeopleWay;
  readonly height: MetresAboveGround;
  readonly reach: Metres;
}

const reachedFrom = ({ ways }: PeoplePass, tools: RuleTools): Within | undefined => {
  let worst: Within | undefined;
  for (const way of ways) {
    const { speed, wind } = fallSpeeds(way, tools);
    const there = reachNear(way, way.outline, way.distance, (height) => fallReach(height, speed, wind), tools);
    if (there === undefined || !fallsShortOf(way.distance, there.reach)) continue;
    const isWorse = worst === undefined || there.reach - way.distance > worst.reach - worst.way.distance + 1e-6;
    if (isWorse) worst = { way, ...there };
  }
  return worst;
};

/** Whether the flight may go over these people anyhow: over them, or beside them where it may fall on them. */
const mayBeOverflown = ({ area, ways }: PeoplePass, tools: RuleTools): boolean => {
  if (isLandUse(area) || overflightDuty(area, tools) === undefined) return true;
  const category = tools.ruleSet === 'us-part-107' ? claimedCategory(tools.plan) : undefined;
  const [first] = ways;
  if (category === undefined || first === undefined) return false;
  const beside = orLacking(() => categoryMismatch(category, area, { first, more: [], length: first.distance }, tools));
  return !('missing' in beside) && beside.known === undefined;
};

/** That the statement of the crew does not reach as far as the flight may fall, wherever that can be worked out. */
const lackingStatement = (flight: Flight, noneWithin: Metres, tools: RuleTools): Missing | undefined => {
  for (const course of tools.ask(flightCourses, flight).courses) {
    const reach = orLacking(() => {
      const { speed, wind } = fallSpeeds(course, tools);
      return fallReach(greatestHeight(course, tools), speed, wind);
    });
    if ('missing' in reach || !exceeds(reach.known, noneWithin)) continue;
    return {
      missing: `the crew states that nobody is within ${sayNumber(noneWithin)} m, and falling on ${course.subject} the aircraft can come down up to ${sayNumber(reach.known)} m away`,
    };
  }
  return undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'people stand where a falling aircraft can come down',
  question: 'Over people?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'caution' },
  basis: 'practice',
  why: 'An aircraft that fails does not fall straight down: it keeps its speed and drifts with the wind. Whoever stands beside the route at that moment is under it all the same.',
  condition:
    'Around each leg, hand-flown area and hold the distance to every area with people is not less than the craft can travel while it falls freely from the height it has there: (speed over the ground + wind or gust) times the square root of 2 × height / 9.80665 m/s². For a light craft, which falls more slowly, this is an estimate and no bound. Where the crew has stated that nobody is near, that distance is compared as far as height, speed and wind are known.',
  exceptions:
    'Areas that the flight is over have a finding of their own. People who take part, are under cover, or whom a category allows to fly over are left out. The EU open category has distances of its own.',
  mend: 'Fly lower, slower or farther away from the people, or choose a day with less wind.',
  sources: [
    { cite: '14 CFR 107.19(c), 107.23(a)', edition: '2026-01-01', trust: 'secondary copy', for: ['us-part-107'] },
    { cite: 'free fall without air resistance', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['people', 'terrain', 'weather', 'aircraft'],
  declarable: true,
  example: {
    faulty:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5005, lon: -120.499 } } }] }\n',
    sound:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.502, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    saidOfPeople(tools.plan);
    if (tools.ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    const { passes, lacking } = tools.ask(peoplePasses, flight);
    const unknown: Missing[] = [...lacking];
    for (const pass of passes) {
      if (pass.ways.some(({ distance }) => !(distance > 0)) || mayBeOverflown(pass, tools)) continue;
      const within = orLacking(() => reachedFrom(pass, tools));
      if ('missing' in within) unknown.push(within);
      else if (within.known !== undefined) {
        const { way, height, reach } = within.known;
        yield {
          found: {
            at: way.written,
            subject: `people at ${pass.area.name}`,
            message: `${way.subject} passes ${sayMetresAgainst(way.distance, reach)} beside ${sayPeople(pass.area)}; falling from ${sayNumber(height)} m above ground it can come down up to ${sayNumber(reach)} m away, counted by free fall, speed and wind`,
            measured: { value: way.distance, unit: 'm', frame: 'over ground' },
            limit: { value: reach, unit: 'm', frame: 'over ground', setBy: 'free fall, speed and wind' },
            place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
            related:
              pass.area.written === undefined ? [] : [{ at: pass.area.written, message: 'the area is listed here' }],
          },
        };
      }
    }
    const stated = peopleStated(tools.plan);
    if (stated?.noneWithin !== undefined) {
      const short = lackingStatement(flight, stated.noneWithin, tools);
      if (short === undefined) yield { declared: { at: stated.at, because: stated.because } };
      else unknown.push(short);
    }
    requireWhole({ lacking: unknown });
  },
});

import { lackingLook } from '../facts/due.ts';
import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { PEOPLE_REACH, peoplePasses } from '../facts/people-passes.ts';
import { HOUSE, sayReason, setHere } from '../rulebook/house.ts';
import { isLandUse, sayPeople } from '../rulebook/people-law.ts';
import { defineRule } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'the flight comes nearer to people than the house allows',
  question: 'Over people?',
  level: 'stop',
  basis: 'practice',
  why: 'An aircraft that fails does not fall straight down. A house that keeps more distance than the law asks leaves room for that.',
  condition:
    'Where the settings have `people-distance`, no leg, hand-flown area or hold comes nearer over the ground to people who take no part and are in the open, whether listed or in a file, and the crew states that nobody else is within that distance. At most 1,000 m (3,281 ft) are looked at.',
  exceptions:
    'People who take part, or are under cover, do not count, and neither do areas of land use without anybody in sight.',
  mend: 'Fly farther away, or at another time.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['people'],
  declarable: true,
  example: {
    faulty:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5014, lon: -120.499 } } }] }\n',
    sound:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.503, lon: -120.499 } } }] }\n',
    world:
      'settings: |\n  settings: 1\n  limits: { people-distance: { is: 150 m, because: our insurance asks for it } }\n',
    soundWorld:
      'settings: |\n  settings: 1\n  limits: { people-distance: { is: 150 m, because: our insurance asks for it } }\n',
  },

  *check(flight, { ask, plan, settings }) {
    const house = settings.limits.peopleDistance;
    if (house === undefined) return;
    const least = house.value.value;
    if (least > PEOPLE_REACH)
      throw new NotAssessed(
        `${HOUSE} asks for ${sayNumber(least)} m from people, and no more than ${PEOPLE_REACH} m are looked at`,
      );
    saidOfPeople(plan);
    const { passes, lacking } = ask(peoplePasses, flight);
    for (const { area, ways } of passes) {
      if (isLandUse(area) || area.status !== undefined) continue;
      const [first, ...more] = ways;
      if (first === undefined) continue;
      const way = more.reduce((best, other) => (other.distance < best.distance ? other : best), first);
      if (!fallsShortOf(way.distance, least)) continue;
      yield {
        found: {
          at: way.written,
          subject: `people at ${area.name}`,
          message: `${way.subject} comes within ${sayMetresAgainst(way.distance, least)} of ${sayPeople(area)}; ${HOUSE} asks for at least ${sayNumber(least)} m${sayReason(house)}`,
          measured: { value: way.distance, unit: 'm', frame: 'over ground' },
          limit: { value: least, unit: 'm', frame: 'over ground', setBy: HOUSE },
          place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
          related: [setHere(house)],
        },
      };
    }
    requireWhole({ lacking });
    const stated = peopleStated(plan)?.noneWithin;
    if (stated !== undefined && fallsShortOf(stated, least))
      throw lackingLook(
        plan,
        `the crew states only that nobody is within ${sayNumber(stated)} m, and ${HOUSE} asks for ${sayNumber(least)} m`,
      );
  },
});

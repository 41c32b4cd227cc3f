import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { peopleAreas, peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { nearestWay, peoplePasses } from '../facts/people-passes.ts';
import { requireRead } from '../facts/unread.ts';
import { A3_AREA_DISTANCE } from '../rulebook/people-distance.ts';
import { isLandUse, sayPeople } from '../rulebook/people-law.ts';
import { defineRule } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

const LAW = '(EU) 2019/947 UAS.OPEN.040(2)';

export default defineRule({
  visits: 'flight',
  title: 'the flight comes within 150 m of an area where people live, work or spend their time',
  question: 'Over people?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'A3 is for aircraft of up to 25 kg without any mark of what they do to a person. They are kept away from where people are, whether somebody is to be seen there or not.',
  condition:
    'With `category: A3` each leg, hand-flown area and hold keeps 150 m (492.1 ft) horizontally from every residential, commercial, industrial and recreational area that the plan and its files list, measured from the edge of the area; or the crew states with `no-areas-within` that none is so near. Exactly 150 m is enough.',
  mend: 'Keep the distance, or fly in another subcategory. Where no such area is near, say so: `no-areas-within: 150 m` under `people`.',
  otherReading:
    'A published answer of the authority speaks of 150 m from people instead of areas; here the text of the law is judged. The 150 m can be counted from the volume that the aircraft may stray into; here they count from the route. What counts as such an area differs between States.',
  sources: [{ cite: LAW, edition: '2026-10-10' }],
  needs: ['people'],
  declarable: true,
  example: {
    faulty:
      'country: AT\ncategory: A3\npeople: { listed: [{ name: Reed Row, kind: residential, inside: { circle: 60 m, around: { lat: 47.5015, lon: -120.499 } } }] }\n',
    sound:
      'country: AT\ncategory: A3\npeople: { listed: [{ name: Reed Row, kind: residential, inside: { circle: 60 m, around: { lat: 47.503, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    const { plan } = tools;
    if (plan.category?.value !== 'A3') return;
    saidOfPeople(plan);
    const { passes, lacking } = tools.ask(peoplePasses, flight);
    for (const pass of passes) {
      const { area } = pass;
      const way = nearestWay(pass);
      if (!isLandUse(area) || way === undefined || !fallsShortOf(way.distance, A3_AREA_DISTANCE)) continue;
      const how = way.distance > 0 ? `comes within ${sayMetresAgainst(way.distance, A3_AREA_DISTANCE)} of` : 'is over';
      yield {
        found: {
          at: way.written,
          subject: `area ${area.name}`,
          message: `${way.subject} ${how} ${sayPeople(area)}; ${LAW} asks at least ${sayNumber(A3_AREA_DISTANCE)} m`,
          measured: { value: way.distance, unit: 'm', frame: 'over ground' },
          limit: { value: A3_AREA_DISTANCE, unit: 'm', frame: 'over ground', setBy: LAW },
          place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
          related: area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }],
        },
      };
    }
    const stated = peopleStated(plan);
    if (stated?.noAreasWithin !== undefined && !fallsShortOf(stated.noAreasWithin, A3_AREA_DISTANCE)) {
      yield { declared: { at: stated.at, because: stated.because } };
      return requireWhole({ lacking });
    }
    requireWhole({ lacking });
    requireRead(plan.slips, 'people');
    if (stated?.noAreasWithin !== undefined) {
      throw new NotAssessed(
        `the crew states only that no such area is within ${sayNumber(stated.noAreasWithin)} m, and ${LAW} asks at least ${sayNumber(A3_AREA_DISTANCE)} m`,
      );
    }
    if (!tools.ask(peopleAreas, plan).areas.some(isLandUse)) {
      throw new NotAssessed(
        'the plan neither lists residential, commercial, industrial and recreational areas nor says with no-areas-within that none is near',
      );
    }
  },
});

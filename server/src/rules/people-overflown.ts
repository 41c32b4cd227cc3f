import { orLacking, requireWhole } from '../facts/lacking.ts';
import { type Overflight, overflightOf } from '../facts/overflight.ts';
import { type KnownPeople, peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { peoplePasses } from '../facts/people-passes.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { type OverflightDuty, openCategory, overflightDuty, sayPeople } from '../rulebook/people-law.ts';
import { type Answer, answerTo, sectionOver } from '../rulebook/people-lift.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayCount, sayDistance } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

const complaint = (area: KnownPeople, over: Overflight, duty: OverflightDuty, { lift, why }: Answer): Complaint => {
  const { first, more } = over;
  const length = over.length > 0 ? ` for ${sayDistance(over.length)}` : '';
  const others = more.length > 0 ? ` (with ${sayCount(more.length, 'more place')})` : '';
  const intervals = first.inside.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to }));
  return {
    at: first.written,
    level: duty.level,
    subject: `people at ${area.name}`,
    message: `${first.subject} is over ${sayPeople(area)}${length}${others}${why === undefined ? '' : `; ${why}`}; ${duty.law} ${duty.says}`,
    sections: [sectionOver(area)],
    parts: [first, ...more].map(({ leg, item, inside }) => (leg === undefined ? { item } : { leg, on: inside })),
    place: { at: first.at, ...(first.along === undefined ? {} : { alongM: first.along }) },
    ...(intervals.length === 0 ? {} : { intervals }),
    related: [
      ...more.map((way) => ({ at: way.written, message: `${way.subject} is over it, too` })),
      ...(area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }]),
    ],
    ...(lift === undefined ? {} : { liftedBy: lift }),
  };
};

export default defineRule({
  visits: 'flight',
  title: 'the flight goes over people',
  question: 'Over people?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'An aircraft that fails falls on whoever is under it. Most of the harm that small aircraft have done on the ground was done this way.',
  condition:
    'The ground track of each leg, each hand-flown area and each hold is compared with the areas with people that the plan and its files list. Part 107: not over people who take no part and are not under cover, nor over moving vehicles, unless a category for flight over people or a waiver covers it. EU: never over an assembly of people; over others who take no part only in A1 with an aircraft of class C0 or below 250 g. Recreation: the guidelines keep flights away from people.',
  exceptions:
    'Category 1 to 4 of the United States each within its own conditions: the aircraft eligible, covered and labelled as its category asks; category 3 never over an assembly, and in sustained flight only over a closed site whose people were notified. Residential, commercial, industrial and recreational areas are a caution, since somebody may be in the open there.',
  mend: 'Lead the route around the area, or give the people there shelter, a part, or another time.',
  otherReading:
    'The law has no number for "sustained flight": here it is a hold, an area flown by hand, more than two crossings, or more than 250 m in one go. Whether people in a car count as overflown in the EU open category is read differently: here it is a caution.',
  sources: [
    { cite: '14 CFR 107.39, 107.100 to 107.145', edition: '2026-01-01', trust: 'secondary copy', for: ['us-part-107'] },
    {
      cite: '(EU) 2019/947 Art. 4(1)(c), UAS.OPEN.020 to 040',
      edition: '2026-10-10',
      trust: 'secondary copy',
      for: ['eu-open'],
    },
    {
      cite: '49 U.S.C. 44809(a)(2), guidelines of the community-based organisation',
      edition: '2018',
      trust: 'from memory',
      for: ['us-recreational'],
    },
    { cite: 'what counts as sustained flight', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['people', 'aircraft'],
  declarable: true,
  waivable: ['14 CFR 107.39', '14 CFR 107.145'],
  example: {
    faulty:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.5, lon: -120.499 } } }] }\n',
    sound:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 30 m, around: { lat: 47.502, lon: -120.499 } } }] }\n',
  },

  *check(flight, tools) {
    saidOfPeople(tools.plan);
    const stated = peopleStated(tools.plan);
    if (stated !== undefined) yield { declared: { at: stated.at, because: stated.because } };
    const found = tools.ask(peoplePasses, flight);
    const lacking: Missing[] = [];
    // Distances in the EU depend on the subcategory: that it is missing is said here, once for all rules about people.
    if (tools.ruleSet === 'eu-open') {
      const category = orLacking(() => openCategory(tools));
      if ('missing' in category) lacking.push(category);
    }
    for (const pass of found.passes) {
      const over = overflightOf(pass, tools);
      if (over === undefined) continue;
      const duty = orLacking(() => overflightDuty(pass.area, tools));
      if ('missing' in duty) {
        lacking.push(duty);
        continue;
      }
      if (duty.known === undefined) continue;
      const answer = orLacking(() => answerTo(pass.area, over, tools));
      if ('missing' in answer) {
        const missing = `whether a category covers the flight over ${sayPeople(pass.area)} cannot be told: ${answer.missing}`;
        lacking.push({ ...answer, missing });
      } else yield { found: complaint(pass.area, over, duty.known, answer.known) };
    }
    requireWhole({ lacking: [...lacking, ...found.lacking] });
  },
});

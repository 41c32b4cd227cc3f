import { lackingLook } from '../facts/due.ts';
import { peopleStated, saidOfPeople } from '../facts/people-areas.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the plan says nothing about people below',
  question: 'Over people?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'A falling aircraft hurts whoever is below. Who is there cannot be computed; somebody has to look, and the plan has to say who did and when.',
  condition:
    'The plan has `people`: areas with people, listed in it or in files, or the distance within which nobody was seen, the day and the one who looked; or both. What follows for the flight is judged by the other rules about people.',
  mend: 'Look at the site and write `people: { none-within: 150 m, seen: DATE, by: pilot }`, or list where people are: `people: { listed: [{ name: ..., kind: people, inside: ... }] }`.',
  sources: [
    { cite: '14 CFR 107.39, 107.49(a)(3)', edition: '2026', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.020-040', edition: '2026-10-10', for: ['eu-open'] },
    {
      cite: '49 U.S.C. 44809(a)(2), guidelines of the community-based organisation',
      edition: '2018',
      for: ['us-recreational'],
    },
  ],
  needs: ['people'],
  declarable: true,
  waivable: ['14 CFR 107.39'],
  example: { faulty: '# without=people\n', sound: 'people: { none-within: 150 m, seen: 2026-06-12, by: pilot }\n' },

  *check(plan) {
    const people = saidOfPeople(plan);
    const stated = peopleStated(plan);
    if (stated !== undefined) yield { declared: { at: stated.at, because: stated.because } };
    if (people.files.length > 0 || people.listed.length > 0) return;
    if (people.noneWithin === undefined || stated === undefined) {
      throw lackingLook(plan, 'the statement about people needs none-within, seen and by');
    }
  },
});

import type { FactTools } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { fieldOf } from '../facts/lost-link.ts';
import { type ReturnOverPeople, returnsOverPeople } from '../facts/return-people.ts';
import type { Flight } from '../plan/model.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { type OverflightDuty, overflightDuty, sayPeople } from '../rulebook/people-law.ts';
import { type Answer, answerTo, sectionOver } from '../rulebook/people-lift.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayCount } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

const complaint = (
  { area, over }: ReturnOverPeople,
  duty: OverflightDuty,
  { lift, why }: Answer,
  flight: Flight,
  { plan }: FactTools,
): Complaint | undefined => {
  if (plan.lostLink === undefined) return undefined;
  const { first, more } = over;
  const others = new Set(more.map(({ subject }) => subject).filter((subject) => subject !== first.subject)).size;
  return {
    at: fieldOf(plan.lostLink),
    level: duty.level,
    subject: `the way home of flight ${flight.number} over ${area.name}`,
    message: `after a lost link on ${first.subject}${others > 0 ? ` (with ${sayCount(others, 'more leg or area', 'more legs and areas')})` : ''} the way back leads over ${sayPeople(area)}${why === undefined ? '' : `; ${why}`}; ${duty.law} ${duty.says}`,
    sections: [sectionOver(area)],
    place: { at: first.at },
    related: [
      { at: first.written, message: `the way back from ${first.subject}` },
      ...(area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }]),
    ],
    ...(lift === undefined ? {} : { liftedBy: lift }),
  };
};

export default defineRule({
  visits: 'flight',
  title: 'after a lost link the aircraft flies back over people',
  question: 'Will it come home?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'A route that keeps clear of the bathing place is of no use when the straight way back leads over it: an aircraft that has just lost its link is the one that is likeliest to fall.',
  condition:
    'The straight ways back, from every place of the route and of every hand-flown area, lead over no area with people that the plan or its files list, by the same law as the route itself.',
  exceptions:
    'An area that the route flies over is told by `people-overflown` only, and lifted by the same category or waiver.',
  mend: 'Lead the route so that the way back stays clear, choose another place to fly to (`then: fly to ...`), or let the aircraft land or hold where it is.',
  sources: [
    { cite: '14 CFR 107.19(c), 107.39, 107.145', edition: '2026-01-01', for: ['us-part-107'] },
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
  ],
  needs: ['people', 'aircraft'],
  waivable: ['14 CFR 107.39', '14 CFR 107.145'],
  besideRoute: true,
  example: {
    faulty:
      'lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }\npeople: { listed: [{ name: bathing place, kind: people, inside: { circle: 15 m, around: { lat: 47.5004, lon: -120.4992 } } }], none-within: 100 m, no-areas-within: 500 m, seen: 2026-06-12, by: pilot }\nroute:\n  - take-off: home\n  - point: south\n    at: 47.4999, -120.4986\n    altitude: 60 m AGL\n  - point: far\n    at: 47.5009, -120.4986\n    altitude: 60 m AGL\n  - point: north\n    at: 47.5009, -120.5\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 15 m, around: { lat: 47.5004, lon: -120.4992 } } }], none-within: 100 m, no-areas-within: 500 m, seen: 2026-06-12, by: pilot }\nlost-link: { after: 5 s, then: land there }\nroute:\n  - take-off: home\n  - point: south\n    at: 47.4999, -120.4986\n    altitude: 60 m AGL\n  - point: far\n    at: 47.5009, -120.4986\n    altitude: 60 m AGL\n  - point: north\n    at: 47.5009, -120.5\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(flight, tools) {
    const { people } = tools.plan;
    // A plan that says nothing about people has one gap, of `people-unstated`.
    if (people === undefined || tools.plan.lostLink === undefined) return;
    const found = tools.ask(returnsOverPeople, flight);
    if (found === undefined) return;
    const lacking: Missing[] = [];
    for (const place of found.places) {
      const duty = orLacking(() => overflightDuty(place.area, tools));
      if ('missing' in duty) {
        lacking.push(duty);
        continue;
      }
      if (duty.known === undefined) continue;
      const answer = orLacking(() => answerTo(place.area, place.over, tools));
      if ('missing' in answer) {
        lacking.push(answer);
        continue;
      }
      const said = complaint(place, duty.known, answer.known, flight, tools);
      if (said !== undefined) yield { found: said };
    }
    requireWhole({ lacking: [...lacking, ...found.lacking] });
  },
});

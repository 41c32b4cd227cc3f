import { dropDistance, dropReach } from '../facts/drop-reach.ts';
import { lackingLook } from '../facts/due.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { peopleAreas, peopleStated } from '../facts/people-areas.ts';
import { sayPeople } from '../rulebook/people-law.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

export default defineRule({
  visits: 'item',
  title: 'what is let fall can come down where people are',
  question: 'Over people?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A thing that is let fall does not land below the aircraft. It keeps the speed of the aircraft and goes with the wind, and somebody who looks up at the aircraft does not see it come.',
  condition:
    'No area with people who do not take part lies where the thing of a `drop` can come down: along the way that it is carried by the speed of the aircraft (unless it holds there, or the thing sinks slowly) and by the strongest wind or gust while it falls, 7 m for the errors of position, path and map and, for a wind that turns by 30°, half of the drift beside it. It falls freely, or as fast as its `sinks` says; a light thing without `sinks` drifts farther than is worked out.',
  exceptions: 'The EU open category allows no dropping at all.',
  mend: 'Let it fall elsewhere, from lower down, while holding, or on a day with less wind; or keep the people away.',
  sources: [
    { cite: '14 CFR 107.23(b)', edition: '2026-01-01', trust: 'secondary copy', for: ['us-part-107'] },
    {
      cite: '49 U.S.C. 44809(a)(2), guidelines of the community-based organisation',
      edition: '2018',
      for: ['us-recreational'],
    },
    { cite: '(EU) 2019/947 UAS.SPEC.050(1)', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
    {
      cite: 'free fall without air resistance; drift with the wind',
      edition: '1',
      trust: 'common practice, no source',
    },
  ],
  needs: ['people', 'terrain', 'weather'],
  declarable: true,
  example: {
    faulty:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 5 m, around: { lat: 47.5001, lon: -120.4977 } } }] }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    hold: 10 s\n    drop: { what: seed pod, mass: 0.3 kg }\n  - land: home\n',
    sound:
      'people: { listed: [{ name: bathing place, kind: people, inside: { circle: 5 m, around: { lat: 47.503, lon: -120.4977 } } }] }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    hold: 10 s\n    drop: { what: seed pod, mass: 0.3 kg }\n  - land: home\n',
  },

  *check(item, tools) {
    const { drop } = item;
    if (drop === undefined) return;
    const { plan } = tools;
    if (plan.people === undefined) throw lackingLook(plan, 'the plan says nothing about people on the ground');
    const { areas, lacking } = tools.ask(peopleAreas, plan);
    const unknown: Missing[] = [...lacking];
    const reach = dropReach(item, tools);
    const thing = drop.what?.value ?? 'what is let fall';
    for (const area of areas) {
      if (area.status === 'participant' || area.status === 'under cover') continue;
      const near = orLacking(() => dropDistance(reach, area.shape));
      if ('missing' in near) unknown.push(near);
      else if (!(near.known > 0)) {
        yield {
          found: {
            at: item.id.span,
            subject: `${thing} over ${area.name}`,
            message: `"${thing}", let fall at point ${item.id.value} from ${sayNumber(reach.height)} m above ground, falls for ${sayNumber(reach.time)} s and can come down at ${sayPeople(area)}; the law allows no drop that is a hazard to people`,
            related: [
              { at: drop.span, message: 'the drop' },
              ...(area.written === undefined ? [] : [{ at: area.written, message: 'the area is listed here' }]),
            ],
          },
        };
      }
    }
    const stated = peopleStated(plan);
    if (stated?.noneWithin !== undefined) {
      const farthest = metres(Math.max(...reach.ways.map(({ path, beside }) => path.length + beside)));
      if (exceeds(farthest, stated.noneWithin)) {
        unknown.push({
          missing: `the crew states that nobody is within ${sayNumber(stated.noneWithin)} m, and "${thing}" can come down up to ${sayNumber(farthest)} m away`,
        });
      } else yield { declared: { at: stated.at, because: stated.because } };
    }
    requireWhole({ lacking: unknown });
  },
});

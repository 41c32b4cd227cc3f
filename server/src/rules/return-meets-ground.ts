import { orLacking, requireWhole } from '../facts/lacking.ts';
import { fieldOf } from '../facts/lost-link.ts';
import { returnGroundStrikes } from '../facts/return-strikes.ts';
import { fitOf, fixesOf, groundStrikesOf } from '../rulebook/return-fit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayCount, sayDistance, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'after a lost link the aircraft flies into the ground on its way back',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'physics',
  why: 'With the link the pilot is gone, too: the aircraft climbs to the height that was set, turns, and flies straight, through whatever stands there. The way back from the ends of a leg may be free while a hill stands in the way back from its middle, and the link chooses the place at which it fails.',
  condition:
    'From every place of the route and of every hand-flown area the straight way back (or to the place that `then` names), at the height of `climb-to` or at the height the aircraft has there if that is higher, has no ground in it. It is worked out over the whole ground between the route and the place, not at sample points.',
  exceptions:
    'A `climb-to` above ground counts from where the link is lost. Where a leg is in the ground itself, that is its own finding. Where no height fits, `return-height-squeezed` tells that instead.',
  mend: 'Give the way home a height that passes over everything between the whole route and the place it leads to, or lead the route so that nothing lies between.',
  sources: [
    { cite: 'the ground', edition: 'as the terrain file states', trust: 'common practice, no source' },
    { cite: '14 CFR 107.19(c)', edition: '2026-01-01', for: ['us-part-107'] },
  ],
  needs: ['terrain'],
  example: {
    faulty:
      'lost-link: { after: 5 s, climb-to: 30 m above take-off, then: fly back and land }\nroute:\n  - take-off: home\n    climb-to: 90 m AGL\n  - point: far\n    at: 47.5, -120.4983\n    altitude: 20 m AGL\n    leg: { follows: 20 m AGL within 5 m }\n  - point: high\n    at: 47.5, -120.4983\n    altitude: 90 m AGL\n  - land: home\n',
    sound:
      'lost-link: { after: 5 s, climb-to: 70 m above take-off, then: fly back and land }\nroute:\n  - take-off: home\n    climb-to: 90 m AGL\n  - point: far\n    at: 47.5, -120.4983\n    altitude: 20 m AGL\n    leg: { follows: 20 m AGL within 5 m }\n  - point: high\n    at: 47.5, -120.4983\n    altitude: 90 m AGL\n  - land: home\n',
    world: 'ground: { knoll: { base: 400 m, top: 450 m, at: [-120.499, 47.5], radius: 60 m } }\n',
    soundWorld: 'ground: { knoll: { base: 400 m, top: 450 m, at: [-120.499, 47.5], radius: 60 m } }\n',
  },

  *check(flight, tools) {
    const { lostLink } = tools.plan;
    const found = tools.ask(returnGroundStrikes, flight);
    if (lostLink === undefined || found === undefined) return;
    const strikes = groundStrikesOf(flight, tools);
    const [first] = strikes;
    if (first !== undefined) {
      const fit = orLacking(() => fitOf(flight, tools));
      if ('missing' in fit || fit.known.kind !== 'squeezed') {
        const worst = strikes.reduce((one, other) => (other.over > one.over ? other : one), first);
        const others = strikes.filter((strike) => strike !== worst);
        const more =
          others.length === 0 ? '' : ` (with ${sayCount(others.length, 'more leg or area', 'more legs and areas')})`;
        const from =
          worst.returns.leg === undefined
            ? ''
            : ` for ${sayDistance(worst.length)} of it, worst ${sayDistance(worst.along)} along`;
        yield {
          found: {
            at: fieldOf(lostLink),
            subject: `the way home of flight ${flight.number}`,
            message: `after a lost link on ${worst.returns.subject}${from}${more}, the way back meets the ground, which rises ${sayNumber(Math.max(0, worst.over))} m above it to ${sayNumber(worst.top)} m above mean sea level; the terrain of the plan sets that`,
            measured: { value: worst.top - worst.over, unit: 'm', frame: 'above sea' },
            limit: { value: worst.top, unit: 'm', frame: 'above sea', setBy: 'the ground' },
            place: { at: worst.at, altitudeAmslM: worst.top - worst.over },
            related: [
              { at: worst.returns.written, message: `worst from ${worst.returns.subject}` },
              ...others.map(({ returns }) => ({ at: returns.written, message: `also from ${returns.subject}` })),
            ],
            cause: { at: fieldOf(lostLink), name: 'the way after a lost link' },
            fixes: 'missing' in fit ? [] : fixesOf(fit.known, lostLink),
          },
        };
      }
    }
    requireWhole(found);
  },
});

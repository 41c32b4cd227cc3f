import { orLacking } from '../facts/lacking.ts';
import { fieldOf } from '../facts/lost-link.ts';
import { heightLimit } from '../rulebook/height-limit.ts';
import { fitOf, groundStrikesOf, obstacleStrikesOf, tooHighOf } from '../rulebook/return-fit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'no height of the way back is low enough and high enough at once',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'physics',
  why: 'Between what stands in the way and the height limit there is no room: every number for the height to climb to is wrong, so that another number mends nothing. The route or the place to fly to has to change.',
  condition:
    'Where the way back meets the ground or an obstacle, or is above the height limit, there is a height at which it does neither. If there is none, this is told instead of those.',
  exceptions:
    'In the EU open category the height limit counts from the nearest ground: there it is not told that no height fits, since a slope beside the way may allow more.',
  mend: 'Lead the route so that nothing lies between it and the take-off place, choose another place to fly to (`then: fly to ...`), or let the aircraft land or hold where it is.',
  sources: [
    { cite: 'the ground and the obstacles', edition: 'as their files state', trust: 'common practice, no source' },
    { cite: '14 CFR 107.19(c), 107.51(b)', edition: '2026-01-01', for: ['us-part-107'] },
  ],
  needs: ['terrain', 'obstacles'],
  example: {
    faulty:
      'lost-link: { after: 5 s, climb-to: 100 m above take-off, then: fly back and land }\nroute:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: round\n    at: 47.501, -120.5\n    altitude: 60 m AGL\n  - point: far\n    at: 47.501, -120.498\n    altitude: 60 m AGL\n  - point: behind\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - point: back\n    at: 47.501, -120.498\n    altitude: 60 m AGL\n  - point: round-back\n    at: 47.501, -120.5\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'lost-link: { after: 5 s, climb-to: 100 m above take-off, then: fly back and land }\nroute:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: round\n    at: 47.501, -120.5\n    altitude: 60 m AGL\n  - land: home\n',
    world: 'ground: { knoll: { base: 400 m, top: 530 m, at: [-120.499, 47.5], radius: 60 m } }\n',
    soundWorld: 'ground: { knoll: { base: 400 m, top: 530 m, at: [-120.499, 47.5], radius: 60 m } }\n',
  },

  *check(flight, tools) {
    const { lostLink } = tools.plan;
    if (lostLink?.climbTo === undefined) return;
    // What is lacking is told by the rules that this one speaks for.
    const troubled = orLacking(
      () =>
        groundStrikesOf(flight, tools).length > 0 ||
        obstacleStrikesOf(flight, tools).length > 0 ||
        tooHighOf(flight, tools).length > 0,
    );
    if ('missing' in troubled || !troubled.known) return;
    const fit = orLacking(() => fitOf(flight, tools));
    if ('missing' in fit || fit.known.kind !== 'squeezed') return;
    const { strike } = fit.known;
    const limit = heightLimit(tools);
    const at = fieldOf(lostLink);
    yield {
      found: {
        at,
        subject: `the way home of flight ${flight.number}`,
        message: `after a lost link on ${strike.returns.subject} no height of the way back fits: what stands in it reaches ${sayNumber(strike.top)} m above mean sea level, ${sayNumber(Math.max(0, strike.over))} m above the highest way that the limit leaves; ${limit.said}`,
        measured: { value: strike.top, unit: 'm', frame: 'above sea' },
        limit: { value: strike.top - strike.over, unit: 'm', frame: 'above sea', setBy: limit.setBy },
        place: { at: strike.at, altitudeAmslM: strike.top },
        related: [{ at: strike.returns.written, message: `it stands in the way from ${strike.returns.subject}` }],
        cause: { at, name: 'the way after a lost link' },
      },
    };
  },
});

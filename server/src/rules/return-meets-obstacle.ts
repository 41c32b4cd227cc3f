import type { FactTools } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { legHeight } from '../facts/leg-height.ts';
import { fieldOf } from '../facts/lost-link.ts';
import {
  BESIDE_THE_LINE,
  type ReturnStrike,
  returnObstacleStrikes,
  returnsBelowStatement,
} from '../facts/return-strikes.ts';
import type { Flight, ObstacleStatement } from '../plan/model.ts';
import type { Judgement } from '../rulebook/finding.ts';
import { fitOf, fixesOf, groundStrikesOf, obstacleStrikesOf } from '../rulebook/return-fit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { aboveGround, type MetresAboveGround } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';

/** Where the leg itself is lower than the statement, `leg-below-obstacle-statement` tells it. */
const isLegLower = ({ returns: { leg } }: ReturnStrike, above: MetresAboveGround, tools: FactTools): boolean => {
  if (leg === undefined) return true;
  const height = orLacking(() => tools.ask(legHeight, leg));
  return 'missing' in height || fallsShortOf(height.known.least.value, above);
};

function* belowStatement(flight: Flight, { noneAbove }: ObstacleStatement, tools: FactTools): Iterable<Judgement> {
  const { lostLink } = tools.plan;
  const above = noneAbove?.value;
  if (lostLink === undefined || noneAbove === undefined || above === undefined || !('aboveGround' in above)) return;
  const strikes = tools
    .ask(returnsBelowStatement, flight)
    ?.strikes.filter((strike) => !isLegLower(strike, above.aboveGround, tools));
  const [first] = strikes ?? [];
  if (strikes === undefined || first === undefined || groundStrikesOf(flight, tools).length > 0) return;
  const worst = strikes.reduce((one, other) => (other.over > one.over ? other : one), first);
  const height = aboveGround(Math.max(0, above.aboveGround - worst.over));
  yield {
    found: {
      at: fieldOf(lostLink),
      level: 'caution',
      subject: `the way home of flight ${flight.number} over what is not known`,
      message: `after a lost link on ${worst.returns.subject} the way back comes down to ${sayMetresAgainst(height, above.aboveGround)} above ground; that nothing stands there is stated in this plan only from ${sayNumber(above.aboveGround)} m above ground upwards`,
      measured: { value: height, unit: 'm', frame: 'above ground' },
      limit: { value: above.aboveGround, unit: 'm', frame: 'above ground', setBy: 'this plan (obstacles)' },
      place: { at: worst.at },
      related: [{ at: noneAbove.span, message: 'the statement stands here' }],
      cause: { at: fieldOf(lostLink), name: 'the way after a lost link' },
    },
  };
}

export default defineRule({
  visits: 'flight',
  title: 'after a lost link the aircraft flies into an obstacle on its way back',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'physics',
  why: 'A mast beside the route is no danger as long as somebody steers around it. After a lost link nobody does: the aircraft flies straight.',
  condition: `From every place of the route and of every hand-flown area the straight way back passes over the top of every obstacle within ${sayNumber(BESIDE_THE_LINE)} m (23 ft) beside it: as far as satellite positioning, holding of the position and maps may be off together.`,
  exceptions:
    'What stands at the very place that it flies to is not counted. Where no height fits, `return-height-squeezed` tells that instead. Lower than the height above which the crew has seen nothing (`none-above`) it is a caution, where the leg itself is higher.',
  mend: 'Give the way home a height that passes over everything between the whole route and the place it leads to, or lead the route so that nothing lies between.',
  sources: [
    { cite: 'the obstacle', edition: 'as the plan or its file states', trust: 'common practice, no source' },
    {
      cite: 'LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7',
      edition: '2024-11-26',
      trust: 'secondary copy',
    },
  ],
  needs: ['obstacles', 'terrain'],
  example: {
    faulty:
      'lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }\nobstacles: { listed: [{ name: mast, at: { lat: 47.5003, lon: -120.4992 }, top: 90 m AGL }] }\nroute:\n  - take-off: home\n  - point: far\n    at: 47.5007, -120.4984\n    altitude: 60 m AGL\n  - point: south\n    at: 47.4998, -120.4984\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }\nobstacles: { listed: [{ name: mast, at: { lat: 47.5003, lon: -120.4992 }, top: 70 m AGL }] }\nroute:\n  - take-off: home\n  - point: far\n    at: 47.5007, -120.4984\n    altitude: 60 m AGL\n  - point: south\n    at: 47.4998, -120.4984\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(flight, tools) {
    const { lostLink, obstacles } = tools.plan;
    // A plan that says nothing about obstacles has its gap from the rule about legs.
    if (lostLink === undefined || obstacles === undefined) return;
    const found = tools.ask(returnObstacleStrikes, flight);
    if (found === undefined) return;
    const strikes = obstacleStrikesOf(flight, tools);
    const [first] = strikes;
    if (first !== undefined) {
      const fit = orLacking(() => fitOf(flight, tools));
      if ('missing' in fit || fit.known.kind !== 'squeezed') {
        const worst = strikes.reduce((one, other) => (other.over > one.over ? other : one), first);
        const names = new Set(strikes.map(({ obstacle }) => obstacle.name));
        const more = names.size === 1 ? '' : ` (with ${sayCount(names.size - 1, 'more obstacle')})`;
        const how = worst.over < 0.05 ? 'at the height of' : `${sayNumber(worst.over)} m below`;
        yield {
          found: {
            at: fieldOf(lostLink),
            subject: `the way home of flight ${flight.number}`,
            message: `after a lost link on ${worst.returns.subject} the way back passes ${how} the top of "${worst.obstacle.name}", which is ${sayNumber(worst.top)} m above mean sea level${more}`,
            measured: { value: worst.top - worst.over, unit: 'm', frame: 'above sea' },
            limit: { value: worst.top, unit: 'm', frame: 'above sea', setBy: `the obstacle "${worst.obstacle.name}"` },
            place: { at: worst.at, altitudeAmslM: worst.top - worst.over },
            related: strikes.map(({ returns, obstacle }) => ({
              at: returns.written,
              message: `"${obstacle.name}" is in the way from ${returns.subject}`,
            })),
            cause: { at: fieldOf(lostLink), name: 'the way after a lost link' },
            fixes: 'missing' in fit ? [] : fixesOf(fit.known, lostLink),
          },
        };
      }
    }
    if (strikes.length === 0 && obstacles.kind === 'statement') yield* belowStatement(flight, obstacles, tools);
    // A statement about obstacles answers for all that is not listed.
    if (obstacles.kind === 'list') requireWhole(found);
  },
});

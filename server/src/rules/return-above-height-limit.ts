import { type FactTools, NotAssessed } from '../facts/fact.ts';
import { placeFarFromGround } from '../facts/far-from-ground.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { fieldOf } from '../facts/lost-link.ts';
import { type HighestReturn, returnHeights } from '../facts/return-strikes.ts';
import { HEIGHT_SOURCES, heightLimit } from '../rulebook/height-limit.ts';
import { fitOf, fixesOf, tooHighOf } from '../rulebook/return-fit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { aboveSea, metres } from '../units/frames.ts';
import { sayCount, sayMetresAgainst } from '../units/say.ts';

/** Whether the nearest ground in any direction is too far, too, where that counts. */
const isFarFromAll = (highest: HighestReturn, tools: FactTools): boolean => {
  const limit = heightLimit(tools);
  if (limit.from === 'ground below') return true;
  const altitude = aboveSea(highest.ground - highest.over);
  const what = `the way back from ${highest.returns.subject}`;
  return placeFarFromGround(highest.at, altitude, what, metres(limit.value), tools) !== undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'after a lost link the aircraft flies back above the height limit',
  question: 'Will it come home?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'A height to climb to that is generous over the take-off place is over the limit where the ground falls away. That nobody steers is no excuse towards the helicopter that is there.',
  condition:
    'On the whole way back, from every place of the route and of every hand-flown area, and on the climb before it, the aircraft is not higher above the ground below it than 400 ft (121.92 m) in the United States; in the EU open category not farther than 120 m (393.7 ft) from the nearest ground at the place of each way that is highest above the ground below; or than what the house has set below that.',
  exceptions:
    'What the law allows beside structures is not counted for the way back, since it leads away from them. Where a leg is too high itself, that is its own finding. Where no height fits, `return-height-squeezed` tells that instead.',
  mend: 'Lower the height to climb to, as far as nothing stands in the way, or lead the route over higher ground.',
  sources: HEIGHT_SOURCES,
  needs: ['terrain'],
  waivable: ['14 CFR 107.51(b)'],
  besideRoute: true,
  example: {
    faulty: 'lost-link: { after: 5 s, climb-to: 130 m above take-off, then: fly back and land }\n',
    sound: 'lost-link: { after: 5 s, climb-to: 110 m above take-off, then: fly back and land }\n',
  },

  *check(flight, tools) {
    const { lostLink } = tools.plan;
    const found = tools.ask(returnHeights, flight);
    if (lostLink === undefined || found === undefined) return;
    if (tools.ruleSet === undefined) throw new NotAssessed('the rule set is not known');
    const limit = heightLimit(tools);
    const tooHigh = tooHighOf(flight, tools).filter((one) => isFarFromAll(one, tools));
    const [first] = tooHigh;
    const at = fieldOf(lostLink);
    if (first !== undefined) {
      const fit = orLacking(() => fitOf(flight, tools));
      if ('missing' in fit || fit.known.kind !== 'squeezed') {
        const worst = tooHigh.reduce((one, other) => (other.over < one.over ? other : one), first);
        const subjects = new Set(tooHigh.map(({ returns }) => returns.subject));
        const more =
          subjects.size === 1
            ? ''
            : ` (with ${sayCount(subjects.size - 1, 'more leg or area', 'more legs and areas')})`;
        const height = -worst.over;
        yield {
          found: {
            at,
            subject: `the way home of flight ${flight.number}`,
            message: `after a lost link on ${worst.returns.subject}${more} the way back reaches ${sayMetresAgainst(height, limit.value)} above ground; ${limit.said}`,
            measured: { value: height, unit: 'm', frame: 'above ground' },
            limit: limit.measure,
            place: { at: worst.at, altitudeAmslM: worst.ground + height },
            related: [
              { at: worst.returns.written, message: `highest from ${worst.returns.subject}` },
              ...(limit.span === undefined ? [] : [{ at: limit.span, message: 'the house set the limit here' }]),
            ],
            cause: { at, name: 'the way after a lost link' },
            fixes: 'missing' in fit ? [] : fixesOf(fit.known, lostLink),
          },
        };
      }
    } else {
      const highest = found.highest.filter(({ byClimb }) => byClimb).sort((one, other) => one.over - other.over)[0];
      if (highest !== undefined && -highest.over <= limit.value) {
        yield {
          margin: {
            subject: `the way home of flight ${flight.number}`,
            at,
            measured: { value: -highest.over, unit: 'm', frame: 'above ground' },
            limit: limit.measure,
            room: limit.value + highest.over,
            place: { at: highest.at },
          },
        };
      }
    }
    requireWhole(found);
  },
});

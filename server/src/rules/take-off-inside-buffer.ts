import { orLacking, requireWhole } from '../facts/lacking.ts';
import { meetings } from '../facts/meetings.ts';
import { namedAt } from '../facts/neighbours.ts';
import { type PadInBuffer, padsInBuffers } from '../facts/take-off-in-buffer.ts';
import type { Plan } from '../plan/model.ts';
import { besideWorld, OWN_BESIDE } from '../rulebook/example-alongside.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { sayNeighbour, sayTogether, TOGETHER } from '../rulebook/say-alongside.ts';
import { VOLUME_GUIDANCE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Neighbour } from '../world/neighbour.ts';

/** Where the flights themselves, or their contingency volumes, meet, that is what has to be mended. */
const meetAnyway = (neighbour: Neighbour, plan: Plan, tools: RuleTools): boolean =>
  plan.flights.some((flight) => {
    const found = orLacking(() => tools.ask(meetings, flight));
    if ('missing' in found) return false;
    const known = found.known.meetings.find((each) => each.neighbour.reference === neighbour.reference);
    return known?.volumes !== undefined || known?.paths !== undefined;
  });

const sayPad = ({ pad, padOf, space, neighbour, distance, reach }: PadInBuffer): string => {
  const [whose, flown] =
    padOf === 'this plan'
      ? ['this plan', `${space.subject} of ${sayNeighbour(neighbour)}`]
      : [sayNeighbour(neighbour), space.subject];
  return `the take-off place ${pad} of ${whose} lies ${sayMetresAgainst(distance, reach)} beside ${flown}`;
};

export default defineRule({
  visits: 'plan',
  title: 'a crew stands where the other aircraft could come down',
  question: 'Over people?',
  level: 'caution',
  basis: 'practice',
  why: 'The crew at a take-off place looks at its own aircraft. The other one, if it fails, comes down among them, and nobody there expects it.',
  condition: `The take-off place of this plan lies outside the ground risk buffer of the plans alongside while its flight lasts, and theirs outside its own. The buffer begins at the edge of the contingency volume and is as wide as the plan's \`ground-risk: buffer\` has it, else as the height of the upper edge of the volume above ground (1:1), or as the way that a parachute or a glide takes. ${TOGETHER}`,
  exceptions: 'Where the flights or their contingency volumes meet, only that is told.',
  mend: 'Move one of the take-off places, fly lower near it, or fly one after the other.',
  sources: VOLUME_SOURCES,
  needs: ['terrain', 'aircraft', 'weather'],
  example: {
    faulty: OWN_BESIDE,
    world: besideWorld({ from: -120.4974, to: -120.496 }),
    sound: OWN_BESIDE,
    soundWorld: besideWorld({}),
  },

  *check(plan, tools) {
    const found = tools.ask(padsInBuffers, plan);
    for (const inside of found.pads) {
      const { neighbour, padOf, space, at, distance, reach, height, times } = inside;
      if (meetAnyway(neighbour, plan, tools)) continue;
      yield {
        found: {
          at: padOf === 'this plan' ? (plan.site.takeOff?.span ?? plan.titleSpan) : space.written,
          subject: `plan ${neighbour.reference}`,
          message: `${sayPad(inside)}, which may be flown up to ${sayNumber(height)} m above ground ${sayTogether(times, plan)}, and its ground risk buffer reaches ${sayMetresAgainst(reach, distance)} by ${VOLUME_GUIDANCE}`,
          measured: { value: distance, unit: 'm', frame: 'over ground' },
          limit: { value: reach, unit: 'm', frame: 'over ground', setBy: VOLUME_GUIDANCE },
          place: { at },
          related: [{ at: namedAt(plan, neighbour), message: 'the plan that is flown alongside' }],
        },
      };
    }
    requireWhole(found);
  },
});

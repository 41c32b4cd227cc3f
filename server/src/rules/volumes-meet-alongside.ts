import { requireWhole } from '../facts/lacking.ts';
import { meetings } from '../facts/meetings.ts';
import { namedAt } from '../facts/neighbours.ts';
import { besideWorld, OWN_BESIDE } from '../rulebook/example-alongside.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayNeighbour, sayTogether, TOGETHER } from '../rulebook/say-alongside.ts';
import { VOLUME_FORMULAE, VOLUME_GUIDANCE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { sayMetresAgainst } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'two aircraft could meet before they are stopped',
  question: 'Does it hit anything?',
  level: 'caution',
  basis: 'practice',
  why: 'No aircraft is exactly where its plan has it, and each needs a way to stop. Where those ways overlap, two faults at once are not needed: one is enough to bring the aircraft where the other is.',
  condition: `The contingency volume of each leg, area, climb and descent does not meet that of a plan alongside at one time. ${VOLUME_FORMULAE} ${TOGETHER}`,
  exceptions:
    'Flights that meet as they are planned have a finding of their own (`paths-meet-alongside`). Downwards nothing is added: an aircraft that falls is a matter of the ground risk buffer.',
  mend: 'Fly one after the other, slower, or farther apart.',
  sources: [{ cite: '14 CFR 107.37(b)', edition: '2026-01-01', for: ['us-part-107'] }, ...VOLUME_SOURCES],
  needs: ['terrain', 'aircraft', 'weather'],
  example: {
    faulty: OWN_BESIDE,
    world: besideWorld({ from: -120.495, to: -120.49775 }),
    sound: OWN_BESIDE,
    soundWorld: besideWorld({}),
  },

  *check(flight, tools) {
    const { plan } = tools;
    const found = tools.ask(meetings, flight);
    for (const { neighbour, paths, volumes } of found.meetings) {
      if (paths !== undefined || volumes === undefined) continue;
      const { own, other, distance, reach, at, times } = volumes;
      yield {
        found: {
          at: own.written,
          subject: `plan ${neighbour.reference}`,
          message: `${own.subject} comes within ${sayMetresAgainst(distance, reach)} of ${other.subject} of ${sayNeighbour(neighbour)}, both may be flown ${sayTogether(times, plan)}, and their contingency volumes together reach ${sayMetresAgainst(reach, distance)} by ${VOLUME_GUIDANCE}`,
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

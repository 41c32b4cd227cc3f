import { requireWhole } from '../facts/lacking.ts';
import { meetings } from '../facts/meetings.ts';
import { namedAt } from '../facts/neighbours.ts';
import { besideWorld, OWN_BESIDE } from '../rulebook/example-alongside.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayNeighbour, sayTogether, TOGETHER } from '../rulebook/say-alongside.ts';
import { VOLUME_GUIDANCE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

/** Paths that come as near as this cross. */
const CENTIMETRE = 0.01;

export default defineRule({
  visits: 'flight',
  title: 'two aircraft are planned to be at one place at one time',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'Two aircraft that may be at one place at one time can meet there. Nobody on the ground can tell in time which of the two is nearer.',
  condition: `The flight geography, 1.5 times the largest dimension of the aircraft around what is flown to every side and up, of each leg, area, climb and descent does not meet that of a plan alongside at one time. ${TOGETHER}`,
  exceptions: 'Contingency volumes that meet although the flights do not are a matter of `volumes-meet-alongside`.',
  mend: 'Fly one after the other (windows, or a window of its own at the take-off), or give each aircraft its own part of the site.',
  sources: [{ cite: '14 CFR 107.37(b)', edition: '2026-01-01', for: ['us-part-107'] }, ...VOLUME_SOURCES],
  needs: ['terrain', 'aircraft'],
  example: {
    faulty: OWN_BESIDE,
    world: besideWorld({ from: -120.496, to: -120.499 }),
    sound: OWN_BESIDE,
    soundWorld: besideWorld({}),
  },

  *check(flight, tools) {
    const { plan } = tools;
    const found = tools.ask(meetings, flight);
    for (const { neighbour, paths } of found.meetings) {
      if (paths === undefined) continue;
      const { own, other, distance, reach, at, times } = paths;
      const how =
        distance < CENTIMETRE
          ? `${own.subject} meets ${other.subject} of ${sayNeighbour(neighbour)}`
          : `${own.subject} comes within ${sayMetresAgainst(distance, reach)} of ${other.subject} of ${sayNeighbour(neighbour)}`;
      const limit = `${sayNumber(reach)} m, the flight geographies of both by ${VOLUME_GUIDANCE}, keep them apart`;
      yield {
        found: {
          at: own.written,
          subject: `plan ${neighbour.reference}`,
          message: `${how} at heights that overlap, and both may be flown ${sayTogether(times, plan)}; at least ${limit}`,
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

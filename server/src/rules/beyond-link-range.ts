import { NotAssessed } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { EVERY_LINK, linkUse, USED_SHARE } from '../facts/link-use.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayDistance, sayMetresAgainst } from '../units/say.ts';

export default defineRule({
  visits: 'flight',
  title: 'the aircraft gets farther from the pilot than its link is sure to reach',
  question: 'Will it come home?',
  level: 'caution',
  basis: 'practice',
  why: 'The range on the box was measured in the open, with both antennas well placed and nobody else on the air. Wet leaves, a body in front of the antenna or a stadium full of telephones take half of it, and then the aircraft is alone.',
  condition:
    'The slant range from the pilot to every leg and area is not more than 0.7 of the range that the aircraft file gives for its link (`link-range`). Up to 500 m (1640 ft) no range is asked for.',
  mend: 'Stay nearer, or move the pilot nearer to the middle of the route.',
  sources: [{ cite: 'share of the rated range', edition: '1', trust: 'common practice, no source' }],
  needs: ['aircraft', 'terrain'],
  example: {
    faulty: 'title: At the far end of the link\n',
    sound: 'title: Near\n',
    world:
      'aircraft: "aircraft: 1\\nname: bittern-2\\nkind: multirotor\\nmass: 1.4 kg\\nsize: 0.5 m\\nlink-range: 200 m\\nmax-wind: 10 m/s\\nregistration: { number: FA3BITT2RN, expires: 2028-03-31 }\\nremote-identification: { means: standard, serial: WAYW8BT000002 }\\n"\n',
  },

  *check(flight, { ask }) {
    const use = orLacking(() => ask(linkUse, flight));
    // An aircraft file that cannot be read is told by the rules that cannot do without it.
    if ('missing' in use) return;
    const { farthest, rated } = use.known;
    if (farthest !== undefined && rated !== undefined) {
      const most = metres(rated * USED_SHARE);
      const measured = { value: farthest.range, unit: 'm' } as const;
      const setBy = 'common practice';
      const limit = { value: most, unit: 'm', setBy } as const;
      if (exceeds(farthest.range, most)) {
        yield {
          found: {
            at: farthest.written,
            subject: `flight ${flight.number}`,
            message: `${farthest.subject} gets ${sayMetresAgainst(farthest.range, most)} from the pilot; of a link rated for ${sayDistance(rated)} common practice uses ${sayMetresAgainst(most, farthest.range)}`,
            measured,
            limit,
          },
        };
      } else {
        const room = most - farthest.range;
        yield { margin: { subject: farthest.subject, at: farthest.written, measured, limit, room } };
      }
    } else if (farthest !== undefined && exceeds(farthest.range, EVERY_LINK)) {
      throw new NotAssessed(
        `${farthest.subject} gets ${sayDistance(farthest.range)} from the pilot, and the aircraft file does not say how far its link reaches (link-range)`,
      );
    }
    if (rated !== undefined) requireWhole(use.known);
  },
});

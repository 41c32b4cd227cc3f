import { requireWhole } from '../facts/lacking.ts';
import { defineRule } from '../rulebook/rule.ts';
import { VOLUME_FORMULAE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { zonesReached } from '../rulebook/zones-reached.ts';

export default defineRule({
  visits: 'flight',
  title: 'the aircraft would be in a zone before it could be stopped',
  question: 'May I fly here?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'caution', 'eu-open': 'caution' },
  basis: 'practice',
  why: 'No aircraft is exactly where the plan has it. From the moment that something goes wrong until somebody answers it flies on, and then it takes its way to stop or to turn about. Beside the edge of a zone that way leads inside.',
  condition: `No zone that asks for leave lies in the contingency volume of the flight, sideways or above it. ${VOLUME_FORMULAE} Downwards nothing is added to what is flown.`,
  exceptions:
    'Zones that the flight itself enters have a finding of their own. A zone with an authorisation that covers the flight beside it may be entered. No law asks for the volume here; in the EU specific category it is a matter of `operational-volume-not-contained`.',
  mend: 'Fly farther from the zone, slower near it, or get leave for it.',
  sources: VOLUME_SOURCES,
  needs: ['airspace', 'terrain', 'aircraft', 'weather'],
  example: {
    faulty: 'title: Beside the tower\n',
    sound: 'title: Farther from the tower\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 65 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.497, 47.5], radius: 20 m } }]\n',
  },

  *check(flight, tools) {
    const { complaints, lacking } = zonesReached(flight, tools);
    for (const found of complaints) yield { found };
    requireWhole({ lacking });
  },
});

import { requireWhole } from '../facts/lacking.ts';
import { volumesInZoneAreas } from '../rulebook/authorised-volumes.ts';
import { defineRule } from '../rulebook/rule.ts';
import { VOLUME_FORMULAE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';

export default defineRule({
  visits: 'flight',
  title: 'the aircraft would leave the authorised area before it could be stopped',
  question: 'May I fly here?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'caution', 'eu-open': 'caution' },
  basis: 'practice',
  why: 'Outside the area of an authorisation the zone belongs to others, who have been told that nobody flies there. An aircraft that goes astray near the edge of the area is among them within seconds.',
  condition: `Inside a zone the contingency volume of the flight lies in the area of the authorisation for it. ${VOLUME_FORMULAE}`,
  exceptions:
    'What leaves the area by itself is told by `zone-entered-unauthorised`. Where the area ends outside the zone nothing is asked. An authorisation that bounds the operational volume (`bounds`) is a matter of `operational-volume-not-contained`, as is the EU specific category.',
  mend: 'Fly farther inside the area or slower near its edge, or have the area made larger.',
  sources: VOLUME_SOURCES,
  needs: ['airspace', 'terrain', 'aircraft', 'weather'],
  example: {
    faulty:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, area: { circle: 160 m, around: { lat: 47.5, lon: -120.5 } } }]\n',
    sound:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, area: { circle: 250 m, around: { lat: 47.5, lon: -120.5 } } }]\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.5, 47.5], radius: 3000 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.5, 47.5], radius: 3000 m } }]\n',
  },

  *check(flight, tools) {
    const { complaints, lacking } = volumesInZoneAreas(flight, ({ bounds }) => bounds === undefined, tools);
    for (const found of complaints) yield { found };
    requireWhole({ lacking });
  },
});

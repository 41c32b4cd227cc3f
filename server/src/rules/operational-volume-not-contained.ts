import { orLacking, requireWhole } from '../facts/lacking.ts';
import {
  type VolumeVerdict,
  volumeInOperationArea,
  volumesInZoneAreas,
  volumeUnderOperationHeight,
} from '../rulebook/authorised-volumes.ts';
import { boundsVolume, operationPaper, operationPapers } from '../rulebook/operation-paper.ts';
import { defineRule } from '../rulebook/rule.ts';
import { VOLUME_FORMULAE, VOLUME_SOURCES } from '../rulebook/say-volume.ts';
import { zonesReached } from '../rulebook/zones-reached.ts';

export default defineRule({
  visits: 'flight',
  title: 'the operational volume reaches beyond what is authorised',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'declared',
  why: 'An authorisation in the specific category rests on a promise: the aircraft stays in its operational volume, also when it has to be brought back under control. Risk to people and to other aircraft was judged for that volume and no other.',
  condition: `Where an authorisation bounds the operational volume, the flight geography and the contingency volume lie in its area and below its height above ground; in the EU specific category that is what it bounds unless it says otherwise (\`bounds: flight geography\`), and no zone that asks for leave lies in the volume without one. ${VOLUME_FORMULAE}`,
  exceptions:
    'What is flown too high by itself is a matter of the height limit. Outside the specific category only an authorisation with `bounds: operational volume` is judged so.',
  mend: 'Fly farther inside the area, lower or slower, or have the authorisation changed. `bank`, `altimeter` and the size in the aircraft file decide about the volume, too.',
  sources: [
    {
      cite: '(EU) 2019/947 Art. 12, UAS.SPEC.050(1)',
      edition: '2026-10-10',
      trust: 'from memory',
      for: ['eu-specific'],
    },
    ...VOLUME_SOURCES,
  ],
  needs: ['airspace', 'terrain', 'aircraft', 'weather'],
  example: {
    faulty:
      'authorisations: [{ number: A-114, zone: ctr-lakes, bounds: operational volume, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, area: { circle: 160 m, around: { lat: 47.5, lon: -120.5 } } }]\n',
    sound:
      'authorisations: [{ number: A-114, zone: ctr-lakes, bounds: operational volume, up-to: 60 m AGL, from: 2026-06-14, until: 2026-06-14, holder: pilot, area: { circle: 250 m, around: { lat: 47.5, lon: -120.5 } } }]\n',
    world:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.5, 47.5], radius: 3000 m } }]\n',
    soundWorld:
      'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.5, 47.5], radius: 3000 m } }]\n',
  },

  *check(flight, tools) {
    const bounding = (authorisation: Parameters<typeof boundsVolume>[0]) => boundsVolume(authorisation, tools);
    const verdicts: (() => VolumeVerdict)[] = [() => volumesInZoneAreas(flight, bounding, tools)];
    if (tools.ruleSet === 'eu-specific') {
      verdicts.push(() => zonesReached(flight, tools));
      // Without any paper the rule about the authorisation says so.
      const paper = operationPapers(tools.plan).length === 0 ? undefined : operationPaper(tools);
      if (paper !== undefined && boundsVolume(paper, tools)) {
        verdicts.push(() => volumeInOperationArea(paper, flight, tools));
        verdicts.push(() => volumeUnderOperationHeight(paper, flight, tools));
      }
    }
    const lacking = [];
    for (const derive of verdicts) {
      const verdict = orLacking(derive);
      if ('missing' in verdict) {
        lacking.push(verdict);
        continue;
      }
      for (const found of verdict.known.complaints) yield { found };
      lacking.push(...verdict.known.lacking);
    }
    requireWhole({ lacking });
  },
});

import { requireWhole } from '../facts/lacking.ts';
import { patternHeights } from '../facts/pattern-heights.ts';
import { asksForPhotos, flownSpacing, photoPlan } from '../facts/photo-plan.ts';
import { footprintOf, overlapAt } from '../geo/photo.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

/** Overlap is asked for with some to spare: what it loses over uneven ground is told from five hundredths on. */
const TO_SPARE = 0.05;

/** Below this a place on the ground is not in two photos of its line, and no height can be measured from them. */
const STEREO = 0.5;

/** `58.3 %` */
const sayShare = (share: number): string => `${sayNumber(share * 100, 1)} %`;

export default defineRule({
  visits: 'item',
  title: 'photos overlap less than the plan asks for, because the ground rises under the lines',
  question: 'Will the photos do?',
  level: 'caution',
  basis: 'practice',
  why: 'The nearer the ground, the less of it is in a photo. Over a hill the photos of a survey that was planned for the valley share too little, and the picture cannot be put together there. The flight has to be flown again, with all its risks.',
  condition:
    'Where the ground is nearest below the lines, photos overlap by what the plan asks for less five percent, along the line and from line to line. Less than that is a note; it is a caution where less than half is shared along a line, so that a place is not in two photos, or where there is a gap between lines. The ground straight below the lines is looked at.',
  mend: 'Ask for more overlap, bring the lines closer together, fly higher, or let the survey follow the terrain.',
  sources: [
    {
      cite: 'Wolf, Dewitt and Wilkinson, Elements of Photogrammetry with Applications in GIS, ch. 18',
      edition: '4th edition, 2014',
      trust: 'secondary copy',
    },
    { cite: 'five percent to spare', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['terrain', 'aircraft'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    overlap: { front: 75 %, side: 65 % }\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, focal-length: 8.8 mm }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    overlap: { front: 75 %, side: 65 % }\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, focal-length: 8.8 mm }\n    follows: 60 m AGL within 1 m\n  - land: home\n',
    world: 'ground: { valley: { floor: 430 m, rim: 400 m, middle: -120.499, half-width: 0.0006 } }\n',
    soundWorld: 'ground: { valley: { floor: 430 m, rim: 400 m, middle: -120.499, half-width: 0.0006 } }\n',
  },

  *check(item, tools) {
    const { pattern } = item;
    if (pattern === undefined || pattern.kind === 'circle' || !asksForPhotos(pattern)) return;
    const { overlap } = pattern;
    if (overlap?.front === undefined && overlap?.side === undefined) return;
    const { base, numbers, height: planned } = tools.ask(photoPlan, item);
    const heights = tools.ask(patternHeights, item);
    const { leg, place } = heights.least;
    // Lines that meet the ground have a finding of their own.
    if (!(place.value > 0)) return;
    const { sensorAcross, sensorAlong, focalLength } = numbers;
    const spacing = flownSpacing(item, pattern, tools);
    const sides = [
      { asked: overlap.front, distance: base, sensor: sensorAlong, of: 'the next photo of the line', least: STEREO },
      { asked: overlap.side, distance: spacing, sensor: sensorAcross, of: 'the photos of the next line', least: 0 },
    ];
    for (const { asked, distance, sensor, of, least } of sides) {
      if (asked === undefined || distance === undefined) continue;
      const real = overlapAt(distance, footprintOf(sensor, focalLength, place.value));
      if (real >= asked.value - TO_SPARE - 1e-9) continue;
      const wanted = asked.value < 1 ? (distance * focalLength) / (sensor * (1 - asked.value)) : planned;
      const how = real < 0 ? `leave a gap of ${sayShare(-real)} of their length to` : `share ${sayShare(real)} with`;
      yield {
        found: {
          at: asked.span,
          ...(real < Math.min(least, asked.value) ? {} : { level: 'note' as const }),
          subject: `${item.kind} ${item.id.value}`,
          message: `photos of ${item.id.value} ${how} ${of} where leg ${leg.from.id.value} to ${leg.to.id.value} is ${sayNumber(place.value)} m above ground, ${sayDistance(place.along)} along; this plan asks for ${sayShare(asked.value)}`,
          measured: { value: place.value, unit: 'm', frame: 'above ground' },
          limit: { value: wanted, unit: 'm', frame: 'above ground', setBy: 'this plan (overlap)' },
          place: { at: place.at, alongM: place.along },
          cause: { at: overlap.span, name: `the overlap of ${item.id.value}` },
        },
      };
    }
    requireWhole(heights);
  },
});

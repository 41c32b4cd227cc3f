import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { patternHeights } from '../facts/pattern-heights.ts';
import { photoPlan } from '../facts/photo-plan.ts';
import { heightForSampling, samplingDistance } from '../geo/photo.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

/** `2.74 cm` */
const sayCentimetres = (metres: number): string => `${sayNumber(metres * 100, 2)} cm`;

export default defineRule({
  visits: 'item',
  title: 'photos are coarser than the plan asks for',
  question: 'Will the photos do?',
  level: 'caution',
  basis: 'practice',
  why: 'The higher above the ground, the more of it falls on one pixel. Over a valley photos show less than was promised, and the flight has to be flown again, with all its risks.',
  condition:
    'Where the ground is farthest below the lines, the distance on the ground from pixel to pixel is not greater than `ground-sampling-distance`. The coarser side of the pixel counts.',
  mend: 'Fly lower, let the survey follow the terrain, or ask for less.',
  sources: [
    {
      cite: 'Wolf, Dewitt and Wilkinson, Elements of Photogrammetry with Applications in GIS, ch. 18',
      edition: '4th edition, 2014',
      trust: 'secondary copy',
    },
  ],
  needs: ['terrain', 'aircraft'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n    ground-sampling-distance: 1.5 cm\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n    ground-sampling-distance: 2 cm\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm }\n  - land: home\n',
  },

  *check(item, tools) {
    const { pattern } = item;
    if (pattern === undefined || pattern.kind === 'circle' || pattern.groundSamplingDistance === undefined) return;
    const asked = pattern.groundSamplingDistance;
    const { pitch, focalLength } = tools.ask(photoPlan, item).numbers;
    if (pitch === undefined) {
      throw new NotAssessed(`the camera of ${item.id.value} does not say how many pixels its photos have`);
    }
    const heights = tools.ask(patternHeights, item);
    const { leg, place } = heights.greatest;
    const most = aboveGround(heightForSampling(pitch, focalLength, asked.value));
    const measured = { value: place.value, unit: 'm', frame: 'above ground' } as const;
    const limit = {
      value: most,
      unit: 'm',
      frame: 'above ground',
      setBy: 'this plan (ground-sampling-distance)',
    } as const;
    const subject = `${item.kind} ${item.id.value}`;
    const where = { at: place.at, alongM: place.along };
    if (exceeds(place.value, most)) {
      yield {
        found: {
          at: asked.span,
          subject,
          message: `photos of ${item.id.value} have ${sayCentimetres(samplingDistance(pitch, focalLength, place.value))} from pixel to pixel where leg ${leg.from.id.value} to ${leg.to.id.value} is ${sayNumber(place.value)} m above ground, ${sayDistance(place.along)} along; this plan asks for at most ${sayCentimetres(asked.value)}, which this camera gives up to ${sayNumber(most)} m above ground`,
          measured,
          limit,
          place: where,
        },
      };
    } else yield { margin: { subject, at: asked.span, measured, limit, room: most - place.value, place: where } };
    requireWhole(heights);
  },
});

import { groundSpeed } from '../facts/ground-speed.ts';
import { legHeight } from '../facts/leg-height.ts';
import { patternLines } from '../facts/pattern-heights.ts';
import { asksForPhotos, patternCamera } from '../facts/photo-plan.ts';
import { blurInPixels, samplingDistance } from '../geo/photo.ts';
import type { Leg } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { outdoes } from '../units/exceeds.ts';
import { sayNumber } from '../units/say.ts';

/** Pixels that the ground may move on the sensor: a caution above the first, a note above the second. */
const MOST = 1;
const NOTED = 0.5;

interface Blur {
  readonly pixels: number;
  readonly speed: number;
  readonly height: number;
  readonly leg: Leg;
}

export default defineRule({
  visits: 'item',
  title: 'the aircraft flies too fast for the shutter of its camera',
  question: 'Will the photos do?',
  level: 'caution',
  basis: 'practice',
  why: 'While the shutter is open the aircraft moves on, and the ground is smeared over the photo. Blurred photos are seen at the desk, and the flight has to be flown again, with all its risks.',
  condition:
    'The way over the ground while the shutter is open, at the fastest that wind and gust allow, is not more than the distance on the ground from pixel to pixel where a line is nearest to the ground. More than half of it is a note. A camera for whose photos the aircraft stops is left out, as is one whose shutter or pixels are not given.',
  mend: 'Fly the lines more slowly, choose a shorter exposure, or let the aircraft stop for each photo.',
  sources: [{ cite: 'at most a pixel of blur', edition: '1', trust: 'common practice, no source' }],
  needs: ['terrain', 'aircraft', 'weather'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n    speed: 8 m/s over ground\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm, shutter: 1/250 s }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - survey: meadow\n    inside: { circle: 40 m, around: { lat: 47.5, lon: -120.499 } }\n    altitude: 60 m AGL\n    course: 90 deg\n    spacing: 25 m\n    speed: 8 m/s over ground\n    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm, shutter: 1/1000 s }\n  - land: home\n',
  },

  *check(item, tools) {
    const { pattern } = item;
    if (pattern === undefined || pattern.kind === 'circle' || !asksForPhotos(pattern)) return;
    const { speed: written } = pattern.terms;
    if (written === undefined) return;
    const { camera, pitch, focalLength } = tools.ask(patternCamera, item);
    const { shutter } = camera;
    if (shutter === undefined || pitch === undefined || (camera.stops?.value ?? 0) > 0) return;
    let worst: Blur | undefined;
    for (const leg of tools.ask(patternLines, item)) {
      const speed = tools.ask(groundSpeed, leg);
      const height = tools.ask(legHeight, leg).least.value;
      if (speed === undefined || speed.kind === 'cannot-hold' || !(height > 0)) continue;
      const pixels = blurInPixels(speed.fastest, shutter.value, samplingDistance(pitch, focalLength, height));
      if (worst === undefined || outdoes(pixels, worst.pixels)) worst = { pixels, speed: speed.fastest, height, leg };
    }
    // A thousandth more is the rounding of a speed.
    if (worst === undefined || worst.pixels <= NOTED + 0.001) return;
    const { pixels, speed, height, leg } = worst;
    yield {
      found: {
        at: written.span,
        ...(pixels > MOST + 0.001 ? {} : { level: 'note' as const }),
        subject: `${item.kind} ${item.id.value}`,
        message: `photos of ${item.id.value} are blurred over ${sayNumber(pixels, 2)} pixels, at ${sayNumber(speed, 2)} m/s over ground and ${sayNumber(shutter.value * 1000, 3)} ms of exposure, on leg ${leg.from.id.value} to ${leg.to.id.value} ${sayNumber(height)} m above ground; common practice allows at most 1 pixel, better half of one`,
        measured: { value: speed, unit: 'm/s', frame: 'over ground' },
        limit: { value: (speed * NOTED) / pixels, unit: 'm/s', frame: 'over ground', setBy: 'common practice' },
        related: [{ at: shutter.span, message: 'the exposure stands here' }],
      },
    };
  },
});

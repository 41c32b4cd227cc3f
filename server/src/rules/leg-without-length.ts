import { itemHeight } from '../facts/item-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS } from '../units/convert.ts';

/** Two places closer than this are one, in metres. */
const SAME_PLACE = 0.05;

export default defineRule({
  visits: 'leg',
  title: 'two points that follow each other are at the same place and height',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'A leg without length does nothing. Usually a point was copied and its position was never changed, so that a place that should be visited is missing.',
  condition:
    'Consecutive points are at least 5 cm apart, or differ in height: a climb or descent at one place is meant.',
  mend: 'Write the position that was meant, or take the second point out.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - point: bank-2\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - point: bank-2\n    at: 47.5, -120.498\n    altitude: 90 m AGL\n  - land: home\n',
  },

  *check(leg, { ask }) {
    if (leg.from.kind !== 'point' || leg.to.kind !== 'point') return;
    const path = ask(pathOfLeg, leg);
    if (path.length >= SAME_PLACE) return;
    // Heights in one frame at one place differ by their numbers, whatever the ground.
    const [from, to] = [leg.from.altitude, leg.to.altitude];
    if (from !== undefined && to !== undefined && from.datum === to.datum) {
      if (Math.abs(from.number * LENGTH_UNITS[from.unit] - to.number * LENGTH_UNITS[to.unit]) >= SAME_PLACE) return;
    } else if (
      Math.abs(ask(itemHeight, leg.from).leaving.aboveSea - ask(itemHeight, leg.to).arriving.aboveSea) >= SAME_PLACE
    )
      return;
    yield {
      found: {
        at: leg.to.at?.span ?? leg.to.id.span,
        subject: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
        message: `"${leg.to.id.value}" is at the same place and height as "${leg.from.id.value}" before it, so the leg between them has no length`,
        related: [{ at: leg.from.at?.span ?? leg.from.id.span, message: 'the same place stands here' }],
      },
    };
  },
});

import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { distance, type LegPath } from './geodesy.ts';
import { eachChord, planeAround } from './shape.ts';
import { cutStraight } from './straight-pieces.ts';

export interface NearestAlong {
  readonly distance: Metres;
  readonly along: number;
}

/** Half of the promised centimetre. */
const CHORD_TOLERANCE = 0.005;

/** The place of a path that is nearest to a point, over the ground, within a centimetre. */
export const nearestAlong = (path: LegPath, at: LonLat): NearestAlong => {
  let best = { off: Number.POSITIVE_INFINITY, along: 0 };
  eachChord(cutStraight(path, planeAround(at), CHORD_TOLERANCE), (chord, along, length) => {
    const square = chord.dx * chord.dx + chord.dy * chord.dy;
    const share = square > 0 ? Math.min(1, Math.max(0, -(chord.x * chord.dx + chord.y * chord.dy) / square)) : 0;
    const off = Math.hypot(chord.x + share * chord.dx, chord.y + share * chord.dy);
    if (off < best.off) best = { off, along: along + share * length };
  });
  return { distance: metres(distance(at, path.at(best.along))), along: best.along };
};

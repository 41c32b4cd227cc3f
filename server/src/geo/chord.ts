/**
 * Straight chords against discs and against the strip around an edge, as shares of the chord. Both bodies are convex,
 * so a chord meets each in one stretch or not at all.
 */
export interface Chord {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

export type Share = readonly [from: number, to: number];

/** The part of a chord inside a disc, its rim included. */
export const chordInDisc = (chord: Chord, x: number, y: number, radius: number): Share | undefined => {
  const fromX = chord.x - x;
  const fromY = chord.y - y;
  const a = chord.dx * chord.dx + chord.dy * chord.dy;
  const c = fromX * fromX + fromY * fromY - radius * radius;
  if (a === 0) return c <= 0 ? [0, 1] : undefined;
  // Shares are counted from the foot of the centre, which keeps the difference of squares small.
  const foot = -(fromX * chord.dx + fromY * chord.dy) / a;
  const offX = fromX + foot * chord.dx;
  const offY = fromY + foot * chord.dy;
  const room = radius * radius - (offX * offX + offY * offY);
  if (room < 0) return undefined;
  const half = Math.sqrt(room / a);
  return clip(foot - half, foot + half);
};

const clip = (from: number, to: number): Share | undefined => {
  const start = Math.max(0, from);
  const end = Math.min(1, to);
  return start <= end ? [start, end] : undefined;
};

const hull = (one: Share | undefined, other: Share | undefined): Share | undefined => {
  if (one === undefined) return other;
  if (other === undefined) return one;
  return [Math.min(one[0], other[0]), Math.max(one[1], other[1])];
};

/** Shares at which `start + share * step` lies in [low, high]. */
const between = (start: number, step: number, low: number, high: number): Share | undefined => {
  if (step === 0) return start >= low && start <= high ? [0, 1] : undefined;
  const one = (low - start) / step;
  const other = (high - start) / step;
  return clip(Math.min(one, other), Math.max(one, other));
};

const both = (one: Share | undefined, other: Share | undefined): Share | undefined =>
  one === undefined || other === undefined ? undefined : clip(Math.max(one[0], other[0]), Math.min(one[1], other[1]));

/** The part of a chord within `reach` of the edge from (x0, y0) to (x1, y1). */
export const chordNearEdge = (
  chord: Chord,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  reach: number,
): Share | undefined => {
  const ends = hull(chordInDisc(chord, x0, y0, reach), chordInDisc(chord, x1, y1, reach));
  const length = Math.hypot(x1 - x0, y1 - y0);
  if (length === 0) return ends;
  const ux = (x1 - x0) / length;
  const uy = (y1 - y0) / length;
  const fromX = chord.x - x0;
  const fromY = chord.y - y0;
  const beside = between(fromX * ux + fromY * uy, chord.dx * ux + chord.dy * uy, 0, length);
  const near = between(fromY * ux - fromX * uy, chord.dy * ux - chord.dx * uy, -reach, reach);
  return hull(ends, both(beside, near));
};

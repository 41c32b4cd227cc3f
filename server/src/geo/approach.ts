/** A place at a height in a flat frame: metres east, north and up. */
export interface SpacePoint {
  readonly x: number;
  readonly y: number;
}

/**
 * A straight stretch of a flight, with the lowest and the highest that it reaches at both ends. Between them all of it
 * changes evenly.
 */
export interface Strand {
  readonly start: SpacePoint;
  readonly end: SpacePoint;
  readonly lowest: readonly [start: number, end: number];
  readonly highest: readonly [start: number, end: number];
}

/** How near two strands come over the ground, and where along each: 0 at its start, 1 at its end. */
export interface Approach {
  readonly distance: number;
  readonly share: number;
  readonly otherShare: number;
}

type Pair = readonly [share: number, otherShare: number];

/** What of a convex polygon lies where a linear function is not negative. */
const cut = (corners: readonly Pair[], value: (at: Pair) => number): readonly Pair[] =>
  corners.flatMap((corner, i): readonly Pair[] => {
    const next = corners[(i + 1) % corners.length] ?? corner;
    const [here, there] = [value(corner), value(next)];
    const kept = here >= 0 ? [corner] : [];
    if (here >= 0 === there >= 0) return kept;
    const share = here / (here - there);
    return [...kept, [corner[0] + share * (next[0] - corner[0]), corner[1] + share * (next[1] - corner[1])]];
  });

const between = ([start, end]: readonly [number, number], share: number): number => start + (end - start) * share;

const inUnit = (share: number): number => Math.min(1, Math.max(0, share));

/**
 * The nearest approach over the ground of two strands, among the places where their heights overlap; undefined where they
 * never do. The places along the two form a square; that heights overlap cuts it by straight lines, and the square of the
 * distance is convex over what is left, so that its least value lies within, or on one of the sides.
 */
export const nearestApproach = (one: Strand, other: Strand): Approach | undefined => {
  const square: readonly Pair[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  const notAbove = cut(square, ([s, t]) => between(other.highest, t) - between(one.lowest, s));
  const overlap = cut(notAbove, ([s, t]) => between(one.highest, s) - between(other.lowest, t));
  if (overlap.length === 0) return undefined;
  const [ux, uy] = [one.end.x - one.start.x, one.end.y - one.start.y];
  const [vx, vy] = [other.end.x - other.start.x, other.end.y - other.start.y];
  const [wx, wy] = [one.start.x - other.start.x, one.start.y - other.start.y];
  const distanceAt = ([s, t]: Pair): number => Math.hypot(wx + s * ux - t * vx, wy + s * uy - t * vy);
  let best: Approach = { distance: Number.POSITIVE_INFINITY, share: 0, otherShare: 0 };
  const take = (at: Pair): void => {
    const distance = distanceAt(at);
    if (distance < best.distance) best = { distance, share: inUnit(at[0]), otherShare: inUnit(at[1]) };
  };
  // Where the two lines cross, if they do.
  const cross = vx * uy - vy * ux;
  if (cross !== 0) {
    const crossing: Pair = [(vy * wx - vx * wy) / cross, (uy * wx - ux * wy) / cross];
    if (isWithin(overlap, crossing)) take(crossing);
  }
  overlap.forEach((corner, i) => {
    const next = overlap[(i + 1) % overlap.length] ?? corner;
    const [ds, dt] = [next[0] - corner[0], next[1] - corner[1]];
    const [px, py] = [wx + corner[0] * ux - corner[1] * vx, wy + corner[0] * uy - corner[1] * vy];
    const [qx, qy] = [ds * ux - dt * vx, ds * uy - dt * vy];
    const length = qx * qx + qy * qy;
    const share = length > 0 ? inUnit(-(px * qx + py * qy) / length) : 0;
    take(corner);
    take([corner[0] + share * ds, corner[1] + share * dt]);
  });
  return best;
};

/** Whether a place lies in a convex polygon that is passed counter-clockwise. */
const isWithin = (corners: readonly Pair[], [s, t]: Pair): boolean =>
  corners.length > 2 &&
  corners.every((corner, i) => {
    const next = corners[(i + 1) % corners.length] ?? corner;
    return (next[0] - corner[0]) * (t - corner[1]) - (next[1] - corner[1]) * (s - corner[0]) >= 0;
  });

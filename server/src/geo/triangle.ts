/** East, north and up in metres, seen from a craft at the origin. */
export type Vector = readonly [x: number, y: number, z: number];

const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const along = (from: Vector, step: Vector, share: number): Vector => [
  from[0] + share * step[0],
  from[1] + share * step[1],
  from[2] + share * step[2],
];

const nearestOnSide = (a: Vector, b: Vector): Vector => {
  const side = minus(b, a);
  const square = dot(side, side);
  return along(a, side, square > 0 ? Math.min(1, Math.max(0, -dot(a, side) / square)) : 0);
};

/** The place of a triangle that is nearest to the origin: below it on its plane, or on one of its sides. */
export const nearestOnTriangle = (a: Vector, b: Vector, c: Vector): Vector => {
  const normal = cross(minus(b, a), minus(c, a));
  const square = dot(normal, normal);
  if (square > 0) {
    const foot = along([0, 0, 0], normal, dot(a, normal) / square);
    const isInside = [
      [a, b],
      [b, c],
      [c, a],
    ].every(
      ([from, to]) =>
        from !== undefined && to !== undefined && dot(cross(minus(to, from), minus(foot, from)), normal) >= 0,
    );
    if (isInside) return foot;
  }
  const sides = [nearestOnSide(a, b), nearestOnSide(b, c), nearestOnSide(c, a)];
  return sides.reduce((best, place) => (dot(place, place) < dot(best, best) ? place : best));
};

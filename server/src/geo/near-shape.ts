import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { chordNearEdge } from './chord.ts';
import { type LegPath, legPath } from './geodesy.ts';
import { type Interval, mergeIntervals } from './interval.ts';
import { type NearestAlong, nearestAlong } from './nearest-along.ts';
import { nearestOnEdge, type Ring, TOUCH } from './ring.ts';
import { distanceToShape, eachChord, intervalsInside, planeAround, type Shape, shapesMeet } from './shape.ts';
import { cutStraight } from './straight-pieces.ts';

/** No piece of a path leaves its chord in the plane by more than this, in metres. */
const CHORD_TOLERANCE = 0.001;

type PlaneEdge = readonly [x0: number, y0: number, x1: number, y1: number];

/**
 * The edges of rings in the plane of directions and distances from a place. Meant for the footprint of a building: within
 * a kilometre lengths in that plane are true to a hundredth of a millimetre.
 */
const edgesAround = (centre: LonLat, rings: readonly Ring[]): readonly PlaneEdge[] => {
  const plane = planeAround(centre);
  return rings.flatMap((ring) => {
    const corners = ring.map((corner) => plane.place(corner));
    return corners.map(({ x, y }, i): PlaneEdge => {
      const next = corners[i + 1] ?? corners[0] ?? { x, y };
      return [x, y, next.x, next.y];
    });
  });
};

const middleOf = (rings: readonly Ring[]): LonLat | undefined => rings[0]?.[0];

/**
 * Where a path is within `reach` metres of a shape over the ground, in metres along it. A millimetre more than the reach
 * is still within it, as everywhere.
 */
export const intervalsNear = (shape: Shape, path: LegPath, reach: Metres): readonly Interval[] => {
  if (shape.kind === 'circle') return intervalsInside({ ...shape, radius: metres(shape.radius + reach) }, path);
  const near: Interval[] = [...intervalsInside(shape, path)];
  for (const rings of shape.polygons) {
    const centre = middleOf(rings);
    if (centre === undefined) continue;
    const edges = edgesAround(centre, rings);
    eachChord(cutStraight(path, planeAround(centre), CHORD_TOLERANCE), (chord, along, length) => {
      for (const edge of edges) {
        const share = chordNearEdge(chord, ...edge, reach + TOUCH);
        if (share !== undefined) near.push({ from: along + share[0] * length, to: along + share[1] * length });
      }
    });
  }
  return mergeIntervals(near);
};

/** How near a path comes to a shape over the ground, 0 in it, and where along it does so first. */
export const nearestToShape = (path: LegPath, shape: Shape): NearestAlong => {
  if (shape.kind === 'circle') {
    const { distance, along } = nearestAlong(path, shape.centre);
    return { distance: metres(Math.max(0, distance - shape.radius)), along };
  }
  const [inside] = intervalsInside(shape, path);
  if (inside !== undefined) return { distance: metres(0), along: inside.from };
  let best = { off: Number.POSITIVE_INFINITY, along: 0 };
  const take = (off: number, along: number): void => {
    if (off < best.off) best = { off, along };
  };
  for (const rings of shape.polygons) {
    const centre = middleOf(rings);
    if (centre === undefined) continue;
    const edges = edgesAround(centre, rings);
    eachChord(cutStraight(path, planeAround(centre), CHORD_TOLERANCE), (chord, along, length) => {
      const [endX, endY] = [chord.x + chord.dx, chord.y + chord.dy];
      for (const [x0, y0, x1, y1] of edges) {
        // Two segments that do not cross are nearest to each other at an end of one of them.
        take(Math.sqrt(nearestOnEdge(chord.x, chord.y, x0, y0, x1, y1).square), along);
        take(Math.sqrt(nearestOnEdge(endX, endY, x0, y0, x1, y1).square), along + length);
        const corner = nearestOnEdge(x0, y0, chord.x, chord.y, endX, endY);
        take(Math.sqrt(corner.square), along + corner.share * length);
      }
    });
  }
  return { distance: metres(best.off), along: best.along };
};

const edgesOf = (shape: Shape): readonly LegPath[] =>
  shape.kind === 'circle'
    ? []
    : shape.polygons.flatMap((rings) =>
        rings.flatMap((ring) => ring.map((corner, i) => legPath(corner, ring[i + 1] ?? ring[0] ?? corner))),
      );

/** Distance between two shapes over the ground in metres, 0 where they meet. Meant for an area and a footprint. */
export const betweenShapes = (one: Shape, other: Shape): Metres => {
  if (one.kind === 'circle') return metres(Math.max(0, distanceToShape(other, one.centre) - one.radius));
  if (other.kind === 'circle') return metres(Math.max(0, distanceToShape(one, other.centre) - other.radius));
  if (shapesMeet(one, other)) return metres(0);
  return metres(
    edgesOf(one).reduce(
      (least, edge) => Math.min(least, nearestToShape(edge, other).distance),
      Number.POSITIVE_INFINITY,
    ),
  );
};

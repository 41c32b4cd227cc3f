import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { type Chord, chordInDisc, chordNearEdge, type Share } from './chord.ts';
import { distance, inverse, type LegPath, legPath } from './geodesy.ts';
import { type Interval, mergeIntervals } from './interval.ts';
import {
  distanceToRing,
  eachEdge,
  type LonLatPlane,
  layRing,
  lonLatPlane,
  type PlaneRing,
  type Ring,
  TOUCH,
  turnsOnto,
  windings,
} from './ring.ts';
import { cutStraight, type Plane, type StraightPieces } from './straight-pieces.ts';

/** A piece of the earth's surface. Rings are closed without repeating the first corner; holes follow the outer ring. */
export type Shape =
  | { readonly kind: 'circle'; readonly centre: LonLat; readonly radius: Metres }
  | { readonly kind: 'polygons'; readonly polygons: readonly (readonly Ring[])[] };

/** No piece of a leg leaves its chord in the plane by more than this, in metres. */
const CHORD_TOLERANCE = 0.005;

/** Directions and distances from a point: every circle around it is a circle here (azimuthal equidistant). */
export const planeAround = (centre: LonLat): Plane => ({
  place: (at) => {
    const { length, course } = inverse(centre, at);
    const direction = (course * Math.PI) / 180;
    return { x: length * Math.sin(direction), y: length * Math.cos(direction) };
  },
  metres: Math.hypot,
});

/** The chords of a cut path, with where they lie along it. */
export const eachChord = (
  cut: StraightPieces,
  visit: (chord: Chord, along: number, length: number, isBroken: boolean) => void,
): void => {
  for (let i = 0; i < cut.broken.length; i++) {
    const along = cut.along[i] ?? 0;
    const x = cut.x[i] ?? 0;
    const y = cut.y[i] ?? 0;
    const chord = { x, y, dx: (cut.x[i + 1] ?? x) - x, dy: (cut.y[i + 1] ?? y) - y };
    visit(chord, along, (cut.along[i + 1] ?? along) - along, cut.broken[i] === 1);
  }
};

const intervalsInCircle = (centre: LonLat, radius: Metres, path: LegPath): readonly Interval[] => {
  if (distance(centre, path.from) > radius + path.length + TOUCH) return [];
  const inside: Interval[] = [];
  eachChord(cutStraight(path, planeAround(centre), CHORD_TOLERANCE), (chord, along, length) => {
    const share = chordInDisc(chord, 0, 0, radius + TOUCH);
    if (share !== undefined) inside.push({ from: along + share[0] * length, to: along + share[1] * length });
  });
  return mergeIntervals(inside);
};

type Polygon = readonly PlaneRing[];

const isWithin = (polygon: Polygon, x: number, y: number): boolean => {
  const [outer, ...holes] = polygon;
  if (outer === undefined || windings(outer, x, y) === 0) return false;
  return holes.every((hole) => windings(hole, x, y) === 0);
};

/**
 * The parts of a chord inside a polygon. First the stretches that touch an edge, each of them inside; every stretch
 * between two of them is clear of all edges, so its middle decides for the whole of it.
 */
const sharesInPolygon = (polygon: Polygon, chord: Chord): readonly Share[] => {
  const touches: Share[] = [];
  const west = Math.min(chord.x, chord.x + chord.dx) - TOUCH;
  const east = Math.max(chord.x, chord.x + chord.dx) + TOUCH;
  const south = Math.min(chord.y, chord.y + chord.dy) - TOUCH;
  const north = Math.max(chord.y, chord.y + chord.dy) + TOUCH;
  for (const ring of polygon) {
    if (ring.west > east || ring.east < west || ring.south > north || ring.north < south) continue;
    eachEdge(ring, (x0, y0, x1, y1) => {
      if ((x0 < west && x1 < west) || (x0 > east && x1 > east)) return;
      if ((y0 < south && y1 < south) || (y0 > north && y1 > north)) return;
      const touch = chordNearEdge(chord, x0, y0, x1, y1, TOUCH);
      if (touch !== undefined) touches.push(touch);
    });
  }
  touches.sort((one, other) => one[0] - other[0]);
  const shares: Share[] = [];
  let clearFrom = 0;
  const judge = (from: number, to: number): void => {
    const middle = (from + to) / 2;
    if (isWithin(polygon, chord.x + middle * chord.dx, chord.y + middle * chord.dy)) shares.push([from, to]);
  };
  for (const touch of touches) {
    if (touch[0] > clearFrom) judge(clearFrom, touch[0]);
    shares.push(touch);
    clearFrom = Math.max(clearFrom, touch[1]);
  }
  if (clearFrom < 1) judge(clearFrom, 1);
  return shares;
};

const layPolygon = (polygon: readonly Ring[], plane: LonLatPlane): Polygon => {
  const laid = polygon.map((ring) => layRing(ring, plane));
  // Holes are laid from their own first corner, which may be a whole turn away from where the outer ring was laid.
  const [outer, ...holes] = laid;
  if (outer === undefined) return [];
  return [outer, ...holes.map((hole) => ontoRing(hole, outer, plane.turn))];
};

const shifted = (ring: PlaneRing, by: number): PlaneRing =>
  by === 0 ? ring : { ...ring, x: ring.x.map((x) => x + by), west: ring.west + by, east: ring.east + by };

const ontoRing = (hole: PlaneRing, outer: PlaneRing, turn: number): PlaneRing =>
  shifted(hole, turnsOnto(hole, outer.west, outer.east, turn)[0] ?? 0);

const shiftedChord = (chord: Chord, by: number): Chord => ({ ...chord, x: chord.x + by });

const intervalsInPolygons = (polygons: readonly (readonly Ring[])[], path: LegPath): readonly Interval[] => {
  const plane = lonLatPlane(path.at(path.length / 2));
  const cut = cutStraight(path, plane, CHORD_TOLERANCE);
  const inside: Interval[] = [];
  for (const rings of polygons) {
    const polygon = layPolygon(rings, plane);
    const [outer] = polygon;
    if (outer === undefined) continue;
    eachChord(cut, (whole, along, length, isBroken) => {
      // A chord across a pole or another break of the plane is shorter than a centimetre: its start stands for it.
      const chord = isBroken ? { ...whole, dx: 0, dy: 0 } : whole;
      const west = Math.min(chord.x, chord.x + chord.dx);
      const east = Math.max(chord.x, chord.x + chord.dx);
      for (const turn of turnsOnto(outer, west, east, plane.turn)) {
        for (const share of sharesInPolygon(polygon, shiftedChord(chord, -turn))) {
          inside.push({ from: along + share[0] * length, to: along + share[1] * length });
        }
      }
    });
  }
  return mergeIntervals(inside);
};

/**
 * Where a path lies inside a shape, in metres along it. Within a millimetre of the edge counts as inside, so a leg along
 * an edge or through a corner is found; a circle is geodesic. A path without length is one place: [0, 0] or nothing.
 */
export const intervalsInside = (shape: Shape, path: LegPath): readonly Interval[] =>
  shape.kind === 'circle'
    ? intervalsInCircle(shape.centre, shape.radius, path)
    : intervalsInPolygons(shape.polygons, path);

/** Whether a place lies inside a shape or touches its edge. */
export const insideShape = (shape: Shape, at: LonLat): boolean => intervalsInside(shape, legPath(at, at)).length > 0;

/** Distance in metres from a place to a shape, 0 inside. For polygons exact near by; a metre in a kilometre far away. */
export const distanceToShape = (shape: Shape, at: LonLat): Metres => {
  if (shape.kind === 'circle') return metres(Math.max(0, distance(shape.centre, at) - shape.radius));
  if (insideShape(shape, at)) return metres(0);
  const plane = lonLatPlane(at);
  let nearest = Number.POSITIVE_INFINITY;
  for (const rings of shape.polygons) {
    for (const ring of layPolygon(rings, plane)) nearest = Math.min(nearest, distanceToRing(ring, plane, at));
  }
  return metres(nearest);
};

const ringLegs = (ring: Ring): readonly LegPath[] =>
  ring.map((corner, i) => legPath(corner, ring[i + 1] ?? ring[0] ?? corner));

/** One place of each separate part of a shape. */
const placesOf = (shape: Shape): readonly LonLat[] =>
  shape.kind === 'circle' ? [shape.centre] : shape.polygons.flatMap((rings) => rings[0]?.slice(0, 1) ?? []);

/**
 * Whether two shapes have a place in common, touching included. Meant for a hand-flown area (the first) against a zone:
 * the area's edges are taken as geodesics, which at its size is the same line to the millimetre.
 */
export const shapesMeet = (area: Shape, zone: Shape): boolean => {
  if (area.kind === 'circle') return distanceToShape(zone, area.centre) <= area.radius + TOUCH;
  if (placesOf(zone).some((place) => insideShape(area, place))) return true;
  return area.polygons.some((rings) =>
    rings.some((ring) => ringLegs(ring).some((edge) => intervalsInside(zone, edge).length > 0)),
  );
};

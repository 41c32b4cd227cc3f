import { type Box, boxAround, growBox, longitudeStep } from '../geo/box.ts';
import { type Metres, metres } from '../units/frames.ts';
import {
  boxOfRings,
  isList,
  isObject,
  type Json,
  looksSwapped,
  type Ring,
  readPoint,
  readRing,
  type Uncovered,
  Unusable,
} from './geojson-features.ts';
import { loopsOf } from './ring-crossing.ts';
import type { ZoneShape } from './zone.ts';
import type { Doubt } from './zones-file.ts';

/** The shape of a zone seen from above, with the box that holds it. */
export interface PlacedShape {
  readonly shape: ZoneShape;
  readonly box: Box;
  /** Said where the shape is used although something is wrong with it. */
  readonly doubt?: string;
  /** Ground of small loops in its rings, on which inside and outside are doubtful. */
  readonly loops?: readonly Box[];
}

/** Degrees of a loop too small to be meant: about two kilometres, as publishers leave them where arcs join lines. */
const SMALL_LOOP = 0.02;

const isSmall = ({ west, south, east, north }: Box): boolean => {
  const width = longitudeStep(west, east) * Math.cos((south * Math.PI) / 180);
  return width >= 0 && width <= SMALL_LOOP && north - south <= SMALL_LOOP;
};

/**
 * Inside and outside are doubtful where a ring crosses itself: what is found in it counts, what is not does not. That of
 * a small loop is left open without a word, since nobody but its publisher can mend it; a large one is told.
 */
const crossingsOf = (rings: readonly Ring[]): Pick<PlacedShape, 'doubt' | 'loops'> => {
  const small: Box[] = [];
  for (const ring of rings) {
    const loops = loopsOf(ring);
    if (loops === 'everywhere' || !loops.every(isSmall)) return { doubt: 'has a ring that crosses itself' };
    small.push(...loops);
  }
  return small.length === 0 ? {} : { loops: small };
};

/** What is doubtful about a shape that is used. */
export const doubtsOf = ({ box, doubt, loops }: PlacedShape): readonly Doubt[] => [
  ...(doubt === undefined ? [] : [{ reason: doubt, grounds: [box] }]),
  ...(loops === undefined ? [] : [{ grounds: loops }]),
];

const readPolygons = (polygons: readonly Json[]): PlacedShape => {
  const read = polygons.map((rings): readonly Ring[] => {
    if (!isList(rings) || rings.length === 0) throw new Unusable('has a polygon without rings');
    return rings.map(readRing);
  });
  if (read.length === 0) throw new Unusable('has no polygon');
  const rings = read.flat();
  const shape: ZoneShape = { kind: 'polygons', polygons: read.map((each) => each.map((ring) => ring.corners)) };
  const box = boxOfRings(rings);
  return { shape, box, ...crossingsOf(rings) };
};

/** A Polygon or MultiPolygon, or a Point with the radius that `radiusOf` finds for it. Throws `Unusable`. */
export const readShape = (geometry: Json | undefined, radiusOf: () => Metres | undefined): PlacedShape => {
  if (!isObject(geometry)) throw new Unusable('has no geometry');
  if (geometry.type === 'Polygon') return readPolygons([geometry.coordinates ?? null]);
  if (geometry.type === 'MultiPolygon') {
    if (!isList(geometry.coordinates)) throw new Unusable('has no polygon');
    return readPolygons(geometry.coordinates);
  }
  if (geometry.type !== 'Point') throw new Unusable('is neither Polygon, MultiPolygon nor Point with a radius');
  const centre = readPoint(geometry.coordinates);
  const radius = radiusOf();
  if (radius === undefined || !(radius > 0) || !Number.isFinite(radius)) {
    throw new Unusable('is a Point without a readable radius, such as "radius": "3 NM"');
  }
  const around = boxAround([centre]);
  if (around === undefined) throw new Unusable('has no place');
  return { shape: { kind: 'circle', centre, radius: metres(radius) }, box: growBox(around, radius) };
};

/** Throws `Unusable` where a shape only makes sense with its axes swapped. */
export const refuseSwapped = (box: Box, covers: readonly Box[] | undefined): void => {
  if (!looksSwapped(box, covers)) return;
  throw new Unusable(
    'has latitude and longitude swapped, seen from the ground the file covers; GeoJSON puts the longitude first',
  );
};

/** The ground that a shape takes, as far as it can be read. */
export const groundOf = (read: () => PlacedShape, covers: readonly Box[] | undefined): Uncovered => {
  try {
    const { box } = read();
    return looksSwapped(box, covers) ? 'everywhere' : box;
  } catch {
    return 'everywhere';
  }
};

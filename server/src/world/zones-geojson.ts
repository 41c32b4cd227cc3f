import { type Box, boxAround, growBox } from '../geo/box.ts';
import { readHeight } from '../plan/scalars/height.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import { readTime } from '../plan/scalars/time.ts';
import { metres } from '../units/frames.ts';
import {
  boxOfRings,
  isList,
  isObject,
  type Json,
  type JsonObject,
  looksSwapped,
  propertyText,
  type Ring,
  readFeatureFile,
  readPoint,
  readRing,
  sayFeature,
  tellProblems,
  type Uncovered,
  Unusable,
} from './geojson-features.ts';
import { crossesItself } from './ring-crossing.ts';
import type { Zone, ZoneEdge, ZoneKind, ZoneShape } from './zone.ts';

/** What an airspace file holds. Problems finish the sentence "<file> ..."; the zones are those that could be used. */
export interface ZonesFile {
  readonly zones: readonly Zone[];
  readonly problems: readonly string[];
  /** Ground the file says it covers; absent where it does not say. */
  readonly covers?: readonly Box[];
  /** Ground of features that could not be used, about which the file therefore says nothing. */
  readonly uncovered: readonly Uncovered[];
  readonly edition?: string;
  readonly retrieved?: string;
}

const KINDS: readonly ZoneKind[] = ['controlled', 'prohibited', 'restricted', 'danger', 'geographical', 'house'];
const CLASSES = ['A', 'B', 'C', 'D', 'E', 'F', 'G'] as const;

/** Words for the two ends that are no number (ICAO Doc 8400: SFC, GND, UNL, from memory). */
const SURFACE: ReadonlySet<string> = new Set(['surface', 'sfc', 'gnd']);
const UNLIMITED: ReadonlySet<string> = new Set(['unlimited', 'unl']);

const readEdge = (properties: JsonObject, key: 'floor' | 'ceiling'): ZoneEdge => {
  const written = properties[key];
  if (typeof written !== 'string') {
    throw new Unusable(
      written === undefined || written === null
        ? `has no ${key}`
        : `has a ${key} that is no text with unit and datum, such as "1500 ft AMSL"`,
    );
  }
  const word = written.trim().toLowerCase();
  if (SURFACE.has(word)) return 'surface';
  if (UNLIMITED.has(word)) return 'unlimited';
  if (/^fl\s*\d+$/.test(word)) {
    throw new Unusable(`has a ${key} given as a flight level; write it in feet, such as "6500 ft AMSL"`);
  }
  const read = readHeight(written, ['AGL', 'AMSL']);
  if (!read.ok)
    throw new Unusable(`has a ${key} "${written.slice(0, 40)}" that could not be read; write it as in "1500 ft AMSL"`);
  if ('aboveGround' in read.value || 'aboveSea' in read.value) return read.value;
  throw new Unusable(`has a ${key} counted from neither ground nor sea`);
};

/** Two edges in one frame whose order is wrong; edges in different frames cannot be compared without ground. */
const isUpsideDown = (floor: ZoneEdge, ceiling: ZoneEdge): boolean => {
  if (floor === 'unlimited' || ceiling === 'surface') return true;
  if (floor === 'surface' || ceiling === 'unlimited') return false;
  if ('aboveSea' in floor && 'aboveSea' in ceiling) return floor.aboveSea >= ceiling.aboveSea;
  if ('aboveGround' in floor && 'aboveGround' in ceiling) return floor.aboveGround >= ceiling.aboveGround;
  return false;
};

const readActive = (written: Json | undefined): NonNullable<Zone['active']> | undefined => {
  if (written === undefined || written === null) return undefined;
  if (!isList(written) || written.length === 0) throw new Unusable('has an "active" that is no list of times');
  return written.map((entry) => {
    const from = isObject(entry) && typeof entry.from === 'string' ? readTime(entry.from) : undefined;
    const until = isObject(entry) && typeof entry.until === 'string' ? readTime(entry.until) : undefined;
    if (from?.ok !== true || until?.ok !== true) {
      throw new Unusable('has a time of activity that could not be read; write it as in "2026-06-14 06:40 -07:00"');
    }
    if (from.value.at >= until.value.at) throw new Unusable('has a time of activity that ends before it starts');
    return { from: from.value.at, until: until.value.at };
  });
};

interface PlacedShape {
  readonly shape: ZoneShape;
  readonly box: Box;
  /** Said where the shape is used although something is wrong with it. */
  readonly doubt?: string;
}

const readPolygons = (polygons: readonly Json[]): PlacedShape => {
  const read = polygons.map((rings): readonly Ring[] => {
    if (!isList(rings) || rings.length === 0) throw new Unusable('has a polygon without rings');
    return rings.map(readRing);
  });
  if (read.length === 0) throw new Unusable('has no polygon');
  const rings = read.flat();
  const shape: ZoneShape = { kind: 'polygons', polygons: read.map((each) => each.map((ring) => ring.corners)) };
  const box = boxOfRings(rings);
  // Inside and outside are doubtful where a ring crosses itself: what is found in it counts, what is not does not.
  return rings.some(crossesItself) ? { shape, box, doubt: 'has a ring that crosses itself' } : { shape, box };
};

const readShape = (geometry: Json | undefined, properties: JsonObject): PlacedShape => {
  if (!isObject(geometry)) throw new Unusable('has no geometry');
  if (geometry.type === 'Polygon') return readPolygons([geometry.coordinates ?? null]);
  if (geometry.type === 'MultiPolygon') {
    if (!isList(geometry.coordinates)) throw new Unusable('has no polygon');
    return readPolygons(geometry.coordinates);
  }
  if (geometry.type !== 'Point') throw new Unusable('is neither Polygon, MultiPolygon nor Point with a radius');
  const centre = readPoint(geometry.coordinates);
  const written = properties.radius;
  const radius = typeof written === 'string' ? readAmount(written, 'length') : undefined;
  if (radius?.ok !== true || !(radius.value > 0)) {
    throw new Unusable('is a Point without a readable radius, such as "radius": "3 NM"');
  }
  const around = boxAround([centre]);
  if (around === undefined) throw new Unusable('has no place');
  return { shape: { kind: 'circle', centre, radius: metres(radius.value) }, box: growBox(around, radius.value) };
};

/** The ground of a feature whose properties cannot be used, as far as its geometry tells. */
const extentOf = (feature: Json | undefined, covers: readonly Box[] | undefined): Uncovered => {
  if (!isObject(feature)) return 'everywhere';
  try {
    const { box } = readShape(feature.geometry, isObject(feature.properties) ? feature.properties : {});
    return looksSwapped(box, covers) ? 'everywhere' : box;
  } catch {
    return 'everywhere';
  }
};

const readZone = (
  feature: Json | undefined,
  index: number,
  covers: readonly Box[] | undefined,
): PlacedShape & { zone: Zone } => {
  if (!isObject(feature) || feature.type !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  if (!isObject(feature.properties)) throw new Unusable('has no properties');
  const { properties } = feature;
  const placed = readShape(feature.geometry, properties);
  if (looksSwapped(placed.box, covers)) {
    throw new Unusable(
      'has latitude and longitude swapped, seen from the ground the file covers; GeoJSON puts the longitude first',
    );
  }
  const kind = KINDS.find((known) => known === properties.kind);
  if (kind === undefined) throw new Unusable(`has no "kind" out of ${KINDS.join(', ')}`);
  const airspaceClass = CLASSES.find((known) => known === properties.class);
  if (kind === 'controlled' && airspaceClass === undefined)
    throw new Unusable('is controlled airspace without a "class" from A to G');
  const surfaceArea = properties.surfaceAreaOfAirport;
  if (surfaceArea !== undefined && surfaceArea !== null && typeof surfaceArea !== 'boolean') {
    throw new Unusable('has a "surfaceAreaOfAirport" that is neither true nor false');
  }
  const floor = readEdge(properties, 'floor');
  const ceiling = readEdge(properties, 'ceiling');
  if (isUpsideDown(floor, ceiling)) throw new Unusable('has its floor at or above its ceiling');
  const active = readActive(properties.active);
  const number = feature.id ?? properties.id;
  const id =
    typeof number === 'number'
      ? String(number)
      : (propertyText(properties, 'id') ?? (typeof number === 'string' ? number : undefined));
  const name = propertyText(properties, 'name') ?? id ?? `feature ${index + 1}`;
  const text = propertyText(properties, 'text');
  return {
    ...placed,
    zone: {
      id: id ?? name,
      name,
      kind,
      shape: placed.shape,
      box: placed.box,
      floor,
      ceiling,
      ...(airspaceClass === undefined ? {} : { airspaceClass }),
      ...(typeof surfaceArea === 'boolean' ? { surfaceAreaOfAirport: surfaceArea } : {}),
      ...(active === undefined ? {} : { active }),
      ...(text === undefined ? {} : { text }),
    },
  };
};

/**
 * Reads an airspace file of our format: a GeoJSON FeatureCollection (RFC 7946) with the properties that
 * schemas/zones.schema.json describes. Total: whatever cannot be used is a problem and the ground it may concern is
 * uncovered.
 */
export const readZones = (text: string): ZonesFile => {
  const file = readFeatureFile(text);
  const zones: Zone[] = [];
  const uncovered: Uncovered[] = [];
  const found: { feature: string; reason: string }[] = [];
  file.features.forEach((feature, index) => {
    const called = sayFeature(index, feature);
    try {
      const { zone, box, doubt } = readZone(feature, index, file.covers);
      zones.push(zone);
      if (doubt === undefined) return;
      found.push({ feature: called, reason: doubt });
      uncovered.push(box);
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      found.push({ feature: called, reason: error.message });
      uncovered.push(extentOf(feature, file.covers));
    }
  });
  const { features: _, ...about } = file;
  return {
    ...about,
    zones,
    uncovered,
    problems: [...file.problems, ...tellProblems(found).map((told) => `has a fault: ${told}`)],
  };
};

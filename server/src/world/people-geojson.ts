import { type Box, boxAround, growBox } from '../geo/box.ts';
import { stripAlong } from '../geo/strip.ts';
import { PEOPLE_KINDS, PEOPLE_STATUSES, type PeopleKind, type PeopleStatus } from '../plan/people.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { featureParts, type ReadFeature, readFeatureList } from './feature-list.ts';
import {
  isList,
  isObject,
  type Json,
  type JsonObject,
  looksSwapped,
  propertyText,
  readPoint,
  Unusable,
} from './geojson-features.ts';
import type { PeopleArea } from './people.ts';
import { type PlacedShape, readShape } from './zone-shape.ts';

/** What a file of areas with people holds. Problems finish the sentence "<file> ..."; the areas are the usable ones. */
export interface PeopleFile {
  readonly areas: readonly PeopleArea[];
  readonly problems: readonly string[];
  /** False where a feature could not be used, so that silence about people proves nothing. */
  readonly whole: boolean;
  readonly edition?: string;
  readonly retrieved?: string;
}

const lengthOf = (properties: JsonObject, key: string): Metres | undefined => {
  const text = properties[key];
  const read = typeof text === 'string' ? readAmount(text, 'length') : undefined;
  return read?.ok === true && read.value > 0 ? metres(read.value) : undefined;
};

const kindOf = (properties: JsonObject): PeopleKind => {
  const kind = PEOPLE_KINDS.find((each) => each === properties['kind']);
  if (kind === undefined) throw new Unusable(`has a "kind" that is none of ${PEOPLE_KINDS.join(', ')}`);
  return kind;
};

const statusOf = (properties: JsonObject): PeopleStatus | undefined => {
  const { status } = properties;
  if (status === undefined || status === null) return undefined;
  const known = PEOPLE_STATUSES.find((each) => each === status);
  if (known === undefined) throw new Unusable(`has a "status" that is none of ${PEOPLE_STATUSES.join(', ')}`);
  return known;
};

/** A line with a width, such as a road: the strip along each of its pieces, half a width longer at either end. */
const readLine = (coordinates: Json | undefined, properties: JsonObject): PlacedShape => {
  const width = lengthOf(properties, 'width');
  if (width === undefined) throw new Unusable('is a LineString without a readable "width", such as "8 m"');
  if (!isList(coordinates)) throw new Unusable('has a line that is not a list of positions');
  const places = coordinates.map(readPoint);
  const strips = places.slice(1).flatMap((place, i) => {
    const before = places[i];
    return before === undefined ? [] : (stripOf(before, place, width) ?? []);
  });
  const box = boxAround(places);
  if (strips.length === 0 || box === undefined) throw new Unusable('has a line of fewer than two places');
  return { shape: { kind: 'polygons', polygons: strips.map((ring) => [ring]) }, box: growBox(box, width) };
};

const stripOf = (from: LonLat, to: LonLat, width: Metres): readonly (readonly LonLat[])[] => {
  const strip = stripAlong(from, to, width / 2, width / 2);
  return strip === undefined ? [] : [strip];
};

const placeOf = (geometry: Json | undefined, properties: JsonObject): PlacedShape =>
  isObject(geometry) && geometry['type'] === 'LineString'
    ? readLine(geometry['coordinates'], properties)
    : readShape(geometry, () => lengthOf(properties, 'radius'));

const readArea = (feature: Json, index: number, covers: readonly Box[] | undefined): ReadFeature<PeopleArea> => {
  const { geometry, properties } = featureParts(feature);
  const status = statusOf(properties);
  const { doubt, shape, box } = placeOf(geometry, properties);
  const area: PeopleArea = {
    name: propertyText(properties, 'name') ?? `feature ${index + 1}`,
    kind: kindOf(properties),
    shape,
    box,
    ...(status === undefined ? {} : { status }),
  };
  if (looksSwapped(box, covers)) throw new Unusable('has latitude and longitude swapped, seen from "covers"');
  return doubt === undefined ? { value: area } : { value: area, doubt };
};

/**
 * Reads a file of areas with people in our form: a GeoJSON FeatureCollection (RFC 7946) of Polygons, MultiPolygons,
 * Points with a `radius` and LineStrings with a `width`, each with a `kind` and, where it has one, a `status`. Total.
 */
export const readPeopleFile = (text: string): PeopleFile => {
  const { usable, problems, whole, about } = readFeatureList(text, readArea);
  return { areas: usable, problems, whole, ...about };
};

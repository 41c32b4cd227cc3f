import { innerPoint } from '../geo/inner-point.ts';
import type { Ring } from '../geo/ring.ts';
import { readHeight } from '../plan/scalars/height.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import { type Height, type Metres, metres } from '../units/frames.ts';
import { featureParts, readFeatureList } from './feature-list.ts';
import {
  isList,
  isObject,
  type Json,
  type JsonObject,
  propertyText,
  readPoint,
  readRing,
  Unusable,
} from './geojson-features.ts';
import { type Obstacle, radiusAround } from './obstacle.ts';

/** What an obstacle file holds. Problems finish the sentence "<file> ..."; the obstacles are those that could be used. */
export interface ObstaclesFile {
  readonly obstacles: readonly Obstacle[];
  readonly problems: readonly string[];
  /** False where a feature could not be used, so that silence about obstacles proves nothing. */
  readonly whole: boolean;
  readonly edition?: string;
  readonly retrieved?: string;
}

const readTop = ({ top }: JsonObject): Height => {
  const read = typeof top === 'string' ? readHeight(top, ['AGL', 'AMSL']) : undefined;
  if (read?.ok !== true) throw new Unusable('has no readable "top", such as "85 m AGL"');
  if ('aboveGround' in read.value || 'aboveSea' in read.value) return read.value;
  throw new Unusable('has a top counted from neither ground nor sea');
};

const readRadius = ({ radius }: JsonObject): Metres => {
  if (radius === undefined || radius === null) return metres(0);
  const read = typeof radius === 'string' ? readAmount(radius, 'length') : undefined;
  if (read?.ok !== true) throw new Unusable('has a "radius" that could not be read, such as "12 m"');
  return metres(read.value);
};

const readFlag = (properties: JsonObject, key: 'structure' | 'guyWires'): boolean | undefined => {
  const flag = properties[key];
  if (flag === undefined || flag === null) return undefined;
  if (typeof flag !== 'boolean') throw new Unusable(`has a "${key}" that is neither true nor false`);
  return flag;
};

const readPlace = (
  geometry: Json | undefined,
  properties: JsonObject,
): Pick<Obstacle, 'at' | 'radius' | 'footprint'> => {
  if (isObject(geometry) && geometry.type === 'Polygon') {
    const [outer, ...holes] = isList(geometry.coordinates) ? geometry.coordinates : [];
    if (holes.length > 0) throw new Unusable('has a footprint with holes; an obstacle counts as filled');
    return placeOfFootprint(readRing(outer).corners);
  }
  if (!isObject(geometry) || geometry.type !== 'Point') throw new Unusable('is neither a Point nor a Polygon');
  return { at: readPoint(geometry.coordinates), radius: readRadius(properties) };
};

/** A footprint with the place inside it that stands for it, and the circle around that which holds it. */
const placeOfFootprint = (footprint: Ring): Pick<Obstacle, 'at' | 'radius' | 'footprint'> => {
  const at = innerPoint(footprint);
  if (at === undefined) throw new Unusable('has a footprint without corners');
  return { at, radius: radiusAround(at, footprint), footprint };
};

const readObstacle = (feature: Json, index: number): Obstacle => {
  const { geometry, properties } = featureParts(feature);
  const structure = readFlag(properties, 'structure');
  const guyWires = readFlag(properties, 'guyWires');
  return {
    name: propertyText(properties, 'name') ?? `feature ${index + 1}`,
    ...readPlace(geometry, properties),
    top: readTop(properties),
    ...(structure === undefined ? {} : { structure }),
    ...(guyWires === undefined ? {} : { guyWires }),
  };
};

/**
 * Reads an obstacle file of our format: a GeoJSON FeatureCollection (RFC 7946) of Points with `name`, `top` and, for
 * something with an extent, `radius`, or of Polygons as footprints. Total.
 */
export const readObstacles = (text: string): ObstaclesFile => {
  const { usable, problems, whole, about } = readFeatureList(text, (feature, index) => ({
    value: readObstacle(feature, index),
  }));
  return { obstacles: usable, problems, whole, ...about };
};

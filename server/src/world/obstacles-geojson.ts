import { readHeight } from '../plan/scalars/height.ts';
import { readAmount } from '../plan/scalars/quantity.ts';
import { type Height, type Metres, metres } from '../units/frames.ts';
import {
  isObject,
  type Json,
  type JsonObject,
  propertyText,
  readFeatureFile,
  readPoint,
  sayFeature,
  tellProblems,
  Unusable,
} from './geojson-features.ts';
import type { Obstacle } from './obstacle.ts';

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

const readObstacle = (feature: Json | undefined, index: number): Obstacle => {
  if (!isObject(feature) || feature.type !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  const { geometry, properties } = feature;
  if (!isObject(properties)) throw new Unusable('has no properties');
  if (!isObject(geometry) || geometry.type !== 'Point') throw new Unusable('is not a Point');
  return {
    name: propertyText(properties, 'name') ?? `feature ${index + 1}`,
    at: readPoint(geometry.coordinates),
    radius: readRadius(properties),
    top: readTop(properties),
  };
};

/**
 * Reads an obstacle file of our format: a GeoJSON FeatureCollection (RFC 7946) of Points with `name`, `top` and, for
 * something with an extent, `radius`. Total.
 */
export const readObstacles = (text: string): ObstaclesFile => {
  const { features, problems, edition, retrieved } = readFeatureFile(text);
  const obstacles: Obstacle[] = [];
  const found: { feature: string; reason: string }[] = [];
  features.forEach((feature, index) => {
    try {
      obstacles.push(readObstacle(feature, index));
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      found.push({ feature: sayFeature(index, feature), reason: error.message });
    }
  });
  return {
    obstacles,
    problems: [...problems, ...tellProblems(found).map((told) => `has a fault: ${told}`)],
    whole: found.length === 0 && problems.length === 0,
    ...(edition === undefined ? {} : { edition }),
    ...(retrieved === undefined ? {} : { retrieved }),
  };
};

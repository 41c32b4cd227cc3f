import type { Box } from '../geo/box.ts';
import {
  isObject,
  type Json,
  type JsonObject,
  readFeatureFile,
  sayFeature,
  tellProblems,
  Unusable,
} from './geojson-features.ts';

/** What a file of features in a form of ours holds. Problems finish the sentence "<file> ..."; what is here could be used. */
export interface FeatureList<T> {
  readonly usable: readonly T[];
  readonly problems: readonly string[];
  /** False where a feature could not be used, or only with a doubt, so that silence proves nothing. */
  readonly whole: boolean;
  /** What the file says about itself, under the names that every reader hands on. */
  readonly about: { readonly edition?: string; readonly retrieved?: string };
}

/** One feature as it was read; `doubt` is told, although the feature counts. */
export interface ReadFeature<T> {
  readonly value: T;
  readonly doubt?: string;
}

/** A feature's parts. Throws `Unusable`. */
export const featureParts = (
  feature: Json | undefined,
): { readonly geometry: Json | undefined; readonly properties: JsonObject } => {
  if (!isObject(feature) || feature['type'] !== 'Feature') throw new Unusable('is not a GeoJSON Feature');
  const { geometry, properties } = feature;
  if (!isObject(properties)) throw new Unusable('has no properties');
  return { geometry, properties };
};

/**
 * Reads a GeoJSON FeatureCollection (RFC 7946) feature by feature: what throws `Unusable` is told and left out, the rest
 * is kept. Total.
 */
export const readFeatureList = <T>(
  text: string,
  read: (feature: Json, index: number, covers: readonly Box[] | undefined) => ReadFeature<T>,
): FeatureList<T> => {
  const { features, problems, edition, retrieved, covers } = readFeatureFile(text);
  const usable: T[] = [];
  const found: { feature: string; reason: string }[] = [];
  features.forEach((feature, index) => {
    const tell = (reason: string): number => found.push({ feature: sayFeature(index, feature), reason });
    try {
      const { value, doubt } = read(feature, index, covers);
      usable.push(value);
      if (doubt !== undefined) tell(doubt);
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      tell(error.message);
    }
  });
  return {
    usable,
    problems: [...problems, ...tellProblems(found).map((told) => `has a fault: ${told}`)],
    whole: found.length === 0 && problems.length === 0,
    about: { ...(edition === undefined ? {} : { edition }), ...(retrieved === undefined ? {} : { retrieved }) },
  };
};

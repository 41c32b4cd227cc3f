import type { Box } from '../geo/box.ts';
import type { Instant } from '../units/frames.ts';
import { type FeatureFile, type Json, sayFeature, tellProblems, type Uncovered, Unusable } from './geojson-features.ts';
import type { Zone } from './zone.ts';

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
  /** The time for which the file as a whole holds, where it says so. */
  readonly holds?: Validity;
}

/** An absent end is open. */
export interface Validity {
  readonly from?: Instant;
  readonly until?: Instant;
}

/** Without a reason it is not told, and shows only where somebody flies there. */
export interface Doubt {
  readonly reason?: string;
  readonly grounds: readonly Uncovered[];
}

/** A feature as read. `doubts` are said where it is used although something is wrong with it. */
export interface ReadFeature {
  readonly zones: readonly Zone[];
  readonly doubts: readonly Doubt[];
}

/**
 * Reads the features of a file one by one. Whatever cannot be used (`read` throws `Unusable`) is a problem, and the
 * ground it may concern, as far as `extentOf` can tell it, is uncovered.
 */
export const readFeatures = (
  file: FeatureFile,
  read: (feature: Json | undefined, index: number) => ReadFeature,
  extentOf: (feature: Json | undefined) => readonly Uncovered[],
  nameOf: (index: number, feature: Json | undefined) => string = sayFeature,
): ZonesFile => {
  const zones: Zone[] = [];
  const uncovered: Uncovered[] = [];
  const found: { feature: string; reason: string }[] = [];
  file.features.forEach((feature, index) => {
    try {
      const { zones: own, doubts } = read(feature, index);
      for (const zone of own) zones.push(zone);
      for (const { reason, grounds } of doubts) {
        if (reason !== undefined) found.push({ feature: nameOf(index, feature), reason });
        uncovered.push(...grounds);
      }
    } catch (error) {
      if (!(error instanceof Unusable)) throw error;
      found.push({ feature: nameOf(index, feature), reason: error.message });
      uncovered.push(...extentOf(feature));
    }
  });
  const { features: _features, metadata: _metadata, ...about } = file;
  return {
    ...about,
    zones,
    uncovered,
    problems: [...file.problems, ...tellProblems(found).map((told) => `has a fault: ${told}`)],
  };
};

import { distance } from '../geo/geodesy.ts';
import { featureParts, readFeatureList } from './feature-list.ts';
import { isList, isObject, type Json, propertyText, readPoint, Unusable } from './geojson-features.ts';
import type { Runway } from './runway.ts';

/** What a runway file holds. Problems finish the sentence "<file> ..."; the runways are those that could be used. */
export interface RunwaysFile {
  readonly runways: readonly Runway[];
  readonly problems: readonly string[];
  readonly whole: boolean;
  readonly edition?: string;
  readonly retrieved?: string;
}

const CLASSES = ['B', 'C', 'D', 'E', 'G'] as const;

const readRunway = (feature: Json): Runway => {
  const { geometry, properties } = featureParts(feature);
  if (!isObject(geometry) || geometry['type'] !== 'LineString' || !isList(geometry['coordinates'])) {
    throw new Unusable('is not a LineString from one end of the runway to the other');
  }
  const places = geometry['coordinates'].map(readPoint);
  const [one, other, ...more] = places;
  if (one === undefined || other === undefined || more.length > 0) throw new Unusable('is not a line of two ends');
  if (!(distance(one, other) > 0)) throw new Unusable('has both ends at one place');
  const airport = propertyText(properties, 'airport');
  if (airport === undefined) throw new Unusable('has no "airport"');
  const surfaceClass = CLASSES.find((each) => each === properties['surface-class']);
  if (surfaceClass === undefined) throw new Unusable(`has a "surface-class" that is none of ${CLASSES.join(', ')}`);
  const zone = propertyText(properties, 'zone');
  const name = propertyText(properties, 'name');
  return {
    name: name === undefined ? `of ${airport}` : `${name} of ${airport}`,
    airport,
    surfaceClass,
    ends: [one, other],
    ...(zone === undefined ? {} : { zone }),
  };
};

/**
 * Reads a runway file of our form: a GeoJSON FeatureCollection (RFC 7946) of LineStrings from one runway end to the
 * other, with `airport`, `surface-class` and, if wanted, `name` and `zone`. Total.
 */
export const readRunways = (text: string): RunwaysFile => {
  const { usable, problems, whole, about } = readFeatureList(text, (feature) => ({ value: readRunway(feature) }));
  return { runways: usable, problems, whole, ...about };
};

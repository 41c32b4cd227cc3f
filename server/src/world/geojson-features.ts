import { type Box, boxesMeet, longitudeStep, wrapLongitude } from '../geo/box.ts';
import { degrees, type LonLat, lonLat } from '../units/frames.ts';

/** A value of JSON before anything is known about it. */
export type Json = null | boolean | number | string | readonly Json[] | JsonObject;
export interface JsonObject {
  readonly [key: string]: Json | undefined;
}

export const isObject = (value: Json | undefined): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

export const isList = (value: Json | undefined): value is readonly Json[] => Array.isArray(value);

/** Why a feature cannot be used. The text finishes "feature 3 ..." and starts with a lower-case verb. */
export class Unusable extends Error {
  override readonly name = 'Unusable';
}

/** Features of a GeoJSON file (RFC 7946) and what the file says about itself as foreign members (section 6.1). */
export interface FeatureFile {
  readonly features: readonly Json[];
  readonly edition?: string;
  readonly retrieved?: string;
  /** Boxes that the file says it covers; absent where it does not say. */
  readonly covers?: readonly Box[];
  readonly problems: readonly string[];
  /** What the file says about itself in a member of this name, as ED-318 does. */
  readonly metadata?: JsonObject;
}

/** Part of the ground about which a file said something that could not be used. */
export type Uncovered = Box | 'everywhere';

const textOf = (value: Json | undefined): string | undefined =>
  typeof value === 'string' && value.trim() !== '' ? value.trim() : undefined;

const isBox = (value: Json | undefined): value is readonly [number, number, number, number] => {
  if (!isList(value) || value.length !== 4) return false;
  const [west, south, east, north] = value;
  const numbers = [west, south, east, north].every((side) => typeof side === 'number' && Number.isFinite(side));
  if (!numbers) return false;
  const sides = value as readonly number[];
  const [w = 0, s = 0, e = 0, n = 0] = sides;
  return Math.abs(w) <= 180 && Math.abs(e) <= 180 && s >= -90 && n <= 90 && s <= n;
};

const boxOf = ([west, south, east, north]: readonly [number, number, number, number]): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

const coversOf = (value: Json | undefined): readonly Box[] | undefined => {
  if (isBox(value)) return [boxOf(value)];
  return isList(value) && value.length > 0 && value.every(isBox) ? value.map(boxOf) : undefined;
};

/** CRS names of the GeoJSON of 2008 that mean what RFC 7946 section 4 prescribes. */
const PLAIN_CRS = /CRS84$|EPSG:{1,2}4326$/i;

/** Reads the frame of a file. Problems finish the sentence "<file> ...". Total. */
export const readFeatureFile = (text: string): FeatureFile => {
  let root: Json;
  try {
    root = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text) as Json;
  } catch {
    return { features: [], problems: [text.trim() === '' ? 'is empty' : 'is not JSON'] };
  }
  if (!isObject(root) || root.type !== 'FeatureCollection' || !isList(root.features)) {
    return { features: [], problems: ['is not a GeoJSON FeatureCollection (RFC 7946 section 3.3)'] };
  }
  const crs = isObject(root.crs) && isObject(root.crs.properties) ? root.crs.properties.name : undefined;
  if (root.crs !== undefined && root.crs !== null && !(typeof crs === 'string' && PLAIN_CRS.test(crs))) {
    return { features: [], problems: ['names a coordinate system other than WGS 84 longitude and latitude'] };
  }
  const covers = coversOf(root.covers);
  const edition = textOf(root.edition);
  const retrieved = textOf(root.retrieved);
  return {
    features: root.features,
    problems:
      root.covers !== undefined && covers === undefined
        ? ['has a "covers" that is no box [west, south, east, north] in degrees, nor a list of them']
        : [],
    ...(edition === undefined ? {} : { edition }),
    ...(retrieved === undefined ? {} : { retrieved }),
    ...(covers === undefined ? {} : { covers }),
    ...(isObject(root.metadata) ? { metadata: root.metadata } : {}),
  };
};

/** One position. Throws `Unusable`. */
export const readPoint = (value: Json | undefined): LonLat => {
  if (!isList(value) || value.length < 2) throw new Unusable('has a position that is not [longitude, latitude]');
  const [lon, lat] = value;
  if (typeof lon !== 'number' || typeof lat !== 'number' || !Number.isFinite(lon) || !Number.isFinite(lat)) {
    throw new Unusable('has a position that is not two numbers');
  }
  if (Math.abs(lon) <= 180 && Math.abs(lat) <= 90) return lonLat(lon, lat);
  if (Math.abs(lat) <= 180 && Math.abs(lon) <= 90) {
    throw new Unusable('has latitude and longitude swapped; GeoJSON puts the longitude first');
  }
  throw new Unusable('has a position outside longitude ±180 and latitude ±90');
};

/** A ring and the longitudes of its corners unwound, so that no step between them is over half a turn. */
export interface Ring {
  readonly corners: readonly LonLat[];
  readonly unwound: readonly number[];
}

/** The short way, except for an edge of a whole turn: the world from -180 to 180 stays the world. */
const edgeStep = (from: number, to: number): number =>
  Math.abs(to - from) >= 360 ? to - from : longitudeStep(from, to);

/** A closed ring without the repeated last corner (RFC 7946 section 3.1.6). Throws `Unusable`. */
export const readRing = (value: Json | undefined): Ring => {
  if (!isList(value)) throw new Unusable('has a ring that is not a list of positions');
  const corners: LonLat[] = [];
  for (const position of value) {
    const corner = readPoint(position);
    const last = corners[corners.length - 1];
    if (last === undefined || last.lon !== corner.lon || last.lat !== corner.lat) corners.push(corner);
  }
  const first = corners[0];
  const last = corners[corners.length - 1];
  if (
    first !== undefined &&
    last !== undefined &&
    corners.length > 1 &&
    first.lon === last.lon &&
    first.lat === last.lat
  ) {
    corners.pop();
  }
  if (first === undefined || corners.length < 3) throw new Unusable('has a ring of fewer than three corners');
  const unwound: number[] = [first.lon];
  for (let i = 1; i < corners.length; i++) {
    const before = unwound[i - 1] ?? 0;
    unwound.push(before + edgeStep(corners[i - 1]?.lon ?? 0, corners[i]?.lon ?? 0));
  }
  const end = unwound[unwound.length - 1] ?? 0;
  const closing = end + edgeStep(corners[corners.length - 1]?.lon ?? 0, first.lon);
  if (Math.abs(closing - first.lon) > 180) throw new Unusable('has a ring that goes round a pole');
  return { corners, unwound };
};

/** The box of rings, each of which may cross the 180° meridian. */
export const boxOfRings = (rings: readonly Ring[]): Box => {
  const start = rings[0]?.unwound[0] ?? 0;
  let west = start;
  let east = start;
  let south = 90;
  let north = -90;
  for (const ring of rings) {
    const turn = start + longitudeStep(start, ring.unwound[0] ?? 0) - (ring.unwound[0] ?? 0);
    ring.unwound.forEach((lon, i) => {
      west = Math.min(west, lon + turn);
      east = Math.max(east, lon + turn);
      const lat = ring.corners[i]?.lat ?? 0;
      south = Math.min(south, lat);
      north = Math.max(north, lat);
    });
  }
  const whole = east - west >= 360;
  return {
    west: degrees(whole ? -180 : wrapLongitude(west)),
    south: degrees(south),
    east: degrees(whole ? 180 : wrapLongitude(east)),
    north: degrees(north),
  };
};

/** Whether a feature only makes sense with its axes swapped: it lies off the ground its file covers, and on it when swapped. */
export const looksSwapped = (box: Box, covers: readonly Box[] | undefined): boolean => {
  if (covers === undefined || covers.some((whole) => boxesMeet(whole, box))) return false;
  if (Math.abs(box.west) > 90 || Math.abs(box.east) > 90 || box.east < box.west) return false;
  const swapped = { west: box.south, south: box.west, east: box.north, north: box.east };
  return covers.some((whole) => boxesMeet(whole, swapped));
};

/** Problems of many features told once each: `feature 3 ("quarry") and 11 more ...`. */
export const tellProblems = (
  found: readonly { readonly feature: string; readonly reason: string }[],
): readonly string[] => {
  const byReason = new Map<string, string[]>();
  for (const { feature, reason } of found) {
    const there = byReason.get(reason);
    if (there === undefined) byReason.set(reason, [feature]);
    else there.push(feature);
  }
  return [...byReason].map(([reason, features]) => {
    const [first = ''] = features;
    return features.length === 1 ? `${first} ${reason}` : `${first} and ${features.length - 1} more: each ${reason}`;
  });
};

/** How messages call a feature: counted from 1, with its name where it has one. */
export const sayFeature = (index: number, feature: Json | undefined): string => {
  const name = isObject(feature) && isObject(feature.properties) ? textOf(feature.properties.name) : undefined;
  return name === undefined ? `feature ${index + 1}` : `feature ${index + 1} ("${name.slice(0, 60)}")`;
};

export const propertyText = (properties: JsonObject, key: string): string | undefined => textOf(properties[key]);

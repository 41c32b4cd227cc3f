import { type Degrees, degrees, type LonLat } from '../units/frames.ts';

/**
 * A longitude-latitude box. `east` may be smaller than `west`: the box then crosses the 180° meridian.
 * Longitudes lie in [-180, 180].
 */
export interface Box {
  readonly west: Degrees;
  readonly south: Degrees;
  readonly east: Degrees;
  readonly north: Degrees;
}

/** The same longitude in [-180, 180). */
export const wrapLongitude = (lon: number): number => {
  if (lon >= -180 && lon < 180) return lon;
  return lon - 360 * Math.floor((lon + 180) / 360);
};

/** The difference `to - from` taken the short way round, in [-180, 180). */
export const longitudeStep = (from: number, to: number): number => wrapLongitude(to - from);

const width = (box: Box): number => (box.east >= box.west ? box.east - box.west : box.east - box.west + 360);

/** The smallest box around points that lie within a hemisphere of the first. Undefined for no points. */
export const boxAround = (points: readonly LonLat[]): Box | undefined => {
  const first = points[0];
  if (first === undefined) return undefined;
  let west = 0;
  let east = 0;
  let south = first.lat as number;
  let north = first.lat as number;
  for (const { lon, lat } of points) {
    const step = longitudeStep(first.lon, lon);
    west = Math.min(west, step);
    east = Math.max(east, step);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  return {
    west: degrees(wrapLongitude(first.lon + west)),
    east: degrees(wrapLongitude(first.lon + east)),
    south: degrees(south),
    north: degrees(north),
  };
};

/** A box grown by at least a number of metres on each side (a degree of latitude is never less than 110,500 m). */
export const growBox = (box: Box, metres: number): Box => {
  const lat = metres / 110_500;
  const south = Math.max(-90, box.south - lat);
  const north = Math.min(90, box.north + lat);
  const cosine = Math.cos((Math.max(Math.abs(south), Math.abs(north)) * Math.PI) / 180);
  const lon = cosine < 1e-6 ? 180 : metres / (110_500 * cosine);
  if (width(box) + 2 * lon >= 360)
    return { west: degrees(-180), east: degrees(180), south: degrees(south), north: degrees(north) };
  return {
    west: degrees(wrapLongitude(box.west - lon)),
    east: degrees(wrapLongitude(box.east + lon)),
    south: degrees(south),
    north: degrees(north),
  };
};

/** Whether two boxes meet, also when one crosses the 180° meridian. Touching counts. */
export const boxesMeet = (one: Box, other: Box): boolean => {
  if (one.south > other.north || other.south > one.north) return false;
  const toWest = (((other.west - one.west) % 360) + 360) % 360;
  return toWest <= width(one) || 360 - toWest <= width(other);
};

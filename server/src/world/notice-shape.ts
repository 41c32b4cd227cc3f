import type { Ring } from '../geo/ring.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { type LonLat, lonLat, metres } from '../units/frames.ts';
import type { ZoneShape } from './zone.ts';

/**
 * Positions as notices write them: degrees and minutes, or degrees, minutes and seconds, with decimals in the last part:
 * `4730N12030W`, `473012N 1203048W`, `473012.5N1203048.2W` (ICAO Annex 15, from memory).
 */
const POSITION = /(?<![\dA-Z])(\d{4}|\d{6})(\.\d+)?\s?([NS])[\s,/-]{0,3}(\d{5}|\d{7})(\.\d+)?\s?([EW])(?![A-Z0-9])/g;

const LENGTH = String.raw`(\d+(?:\.\d+)?)\s?(NM|KM|M|FT)`;

/** A circle's radius before its centre, and after it. */
const RADIUS_BEFORE = new RegExp(
  String.raw`(?:${LENGTH}[\s-]*RADIUS|RADIUS(?:\s+OF)?[\s:]+${LENGTH})[A-Z\s,:()]{0,40}$`,
);
const RADIUS_AFTER = new RegExp(String.raw`^[\s,)]{0,3}(?:WITH\s+A\s+|WITH\s+)?RADIUS(?:\s+OF)?\s*:?\s*${LENGTH}`);

/** Words for edges that are no straight lines between the positions. */
const BENT =
  /\b(ARC|ARCS|CLOCKWISE|ANTICLOCKWISE|COUNTERCLOCKWISE|ALONG|BORDER|COAST|COASTLINE|RIVER|EXCLUDING|EXCEPT|LATERAL LIMITS|EITHER SIDE|SEGMENT|SECTOR|RADIAL)\b/;

const UNITS: Readonly<Record<string, number>> = { NM: LENGTH_UNITS.NM, KM: 1000, M: 1, FT: LENGTH_UNITS.ft };

/** Whole minutes or seconds from 00 to 59, and degrees within their range; undefined otherwise. */
const angleOf = (digits: string, decimals: string | undefined, degreeDigits: 2 | 3): number | undefined => {
  const degrees = Number(digits.slice(0, degreeDigits));
  const rest = digits.slice(degreeDigits);
  const minutes = Number(rest.slice(0, 2));
  const fraction = Number(`0${decimals ?? ''}`);
  const hasSeconds = rest.length === 4;
  const seconds = hasSeconds ? Number(rest.slice(2)) + fraction : fraction * 60;
  if (minutes > 59 || (hasSeconds && Number(rest.slice(2)) > 59)) return undefined;
  const angle = degrees + minutes / 60 + seconds / 3600;
  return angle <= (degreeDigits === 2 ? 90 : 180) ? angle : undefined;
};

interface Found {
  readonly at: LonLat | undefined;
  readonly from: number;
  readonly to: number;
}

/** All positions of a text, in its order. One whose minutes or seconds cannot be is there without a place. */
const positionsIn = (text: string): readonly Found[] =>
  [...text.matchAll(POSITION)].map((match): Found => {
    const [whole, lat = '', latDecimals, north, lon = '', lonDecimals, east] = match;
    const y = angleOf(lat, latDecimals, 2);
    const x = angleOf(lon, lonDecimals, 3);
    const at = x === undefined || y === undefined ? undefined : lonLat(east === 'W' ? -x : x, north === 'S' ? -y : y);
    return { at, from: match.index, to: match.index + whole.length };
  });

/** The first position of a text, as the Q) line has one. */
export const firstPositionIn = (text: string): LonLat | undefined => positionsIn(text)[0]?.at;

const radiusIn = (match: RegExpExecArray | null): number | undefined => {
  if (match === null) return undefined;
  const [, ...groups] = match;
  const [number, unit] = groups.filter((group) => group !== undefined);
  const radius = Number(number) * (UNITS[unit ?? ''] ?? Number.NaN);
  return radius > 0 ? radius : undefined;
};

/** Shapes that a text gives by circles and by corners; undefined where it gives none, or not only such. */
export const shapesIn = (text: string): readonly ZoneShape[] | undefined => {
  const upper = text.toUpperCase();
  const found = positionsIn(upper);
  if (found.length === 0 || BENT.test(upper)) return undefined;
  const circles: ZoneShape[] = [];
  const corners: LonLat[] = [];
  for (const [i, { at, from, to }] of found.entries()) {
    if (at === undefined) return undefined;
    const before = upper.slice(found[i - 1]?.to ?? 0, from);
    const after = upper.slice(to, found[i + 1]?.from ?? upper.length);
    const radius = radiusIn(RADIUS_BEFORE.exec(before)) ?? radiusIn(RADIUS_AFTER.exec(after));
    if (radius === undefined) corners.push(at);
    else circles.push({ kind: 'circle', centre: at, radius: metres(radius) });
  }
  // A radius that belongs to no position, or a circle beside loose positions, is something else than was read.
  if ((upper.match(/\bRADIUS\b/g) ?? []).length !== circles.length) return undefined;
  if (corners.length === 0) return circles;
  const ring = closedRing(corners);
  return circles.length > 0 || ring === undefined ? undefined : [{ kind: 'polygons', polygons: [[ring]] }];
};

/** A ring of at least three different corners whose last, if it repeats the first, is dropped. */
const closedRing = (corners: readonly LonLat[]): Ring | undefined => {
  const [first] = corners;
  const last = corners[corners.length - 1];
  const isClosed = first !== undefined && last !== undefined && first.lon === last.lon && first.lat === last.lat;
  const ring = isClosed ? corners.slice(0, -1) : corners;
  const different = new Set(ring.map(({ lon, lat }) => `${lon} ${lat}`));
  return ring.length >= 3 && different.size === ring.length ? ring : undefined;
};

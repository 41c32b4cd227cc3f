import { crossingEdges } from '../geo/crossing-edges.ts';
import type { Ring } from '../geo/ring.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { type LonLat, lonLat, metres } from '../units/frames.ts';
import { type Arc, cornersOfArc } from './notice-arc.ts';
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

/** Words for edges that are neither straight lines between the positions nor arcs told by centre and radius. */
const BENT =
  /\b(ARC|ARCS|CLOCKWISE|ANTICLOCKWISE|COUNTERCLOCKWISE|ALONG|BORDER|COAST|COASTLINE|RIVER|EXC|EXCLUDING|EXCEPT|LATERAL LIMITS|EITHER SIDE|SEGMENT|SECTOR|RADIAL)\b/;

const DIRECTION = /\b((?:ANTI|COUNTER)[\s-]?CLOCKWISE|CLOCKWISE)\b/;

/** What may stand around the parts of an arc; anything else, and it is not understood. */
const ARC_WORDS =
  /^(?:[\s,.:;()-]|\b(?:A|AN|THE|OF|BY|IN|ON|AT|WITH|TO|FROM|UNTIL|THEN|THENCE|ALONG|ARC|CIRCLE|CIRCULAR|DIRECTION|RADIUS|HAVING|BEING|CENTRED|CENTERED|CENTRE|CENTER|POINT)\b)*$/;

const LENGTHS = new RegExp(LENGTH, 'g');

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
  readonly finest: 'minutes' | 'seconds';
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
    const finest = lat.length > 4 || latDecimals !== undefined ? 'seconds' : 'minutes';
    return { at, finest, from: match.index, to: match.index + whole.length };
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

/** The one length of a text in metres; undefined where it has none or several. */
const lengthIn = (text: string): number | undefined => {
  const [match, ...more] = [...text.matchAll(LENGTHS)];
  const length = Number(match?.[1]) * (UNITS[match?.[2] ?? ''] ?? Number.NaN);
  return more.length === 0 && length > 0 ? length : undefined;
};

/**
 * What stands before a position tells that it is the centre of an arc: "CLOCKWISE ALONG AN ARC OF RADIUS 5NM CENTRED ON".
 * The radius may also follow the centre. `unclear` where an arc is spoken of in words that are not known.
 */
const arcBefore = (before: string, after: string): Omit<Arc, 'centre'> | 'unclear' | undefined => {
  const direction = DIRECTION.exec(before)?.[1];
  if (direction === undefined) return undefined;
  const rest = (text: string): string => text.replace(DIRECTION, ' ').replace(LENGTHS, ' ');
  const own = lengthIn(before);
  const radius = own ?? radiusIn(RADIUS_AFTER.exec(after));
  const told = /\bARC\b/.test(before) && ARC_WORDS.test(rest(before));
  if (!told || radius === undefined) return 'unclear';
  return { radius: metres(radius), turn: direction === 'CLOCKWISE' ? 'clockwise' : 'anticlockwise' };
};

/** Shapes that a text gives by circles, by corners and by arcs between them; undefined where it gives none, or not only such. */
export const shapesIn = (text: string): readonly ZoneShape[] | undefined => {
  const upper = text.toUpperCase();
  const found = positionsIn(upper);
  if (found.length === 0) return undefined;
  const circles: ZoneShape[] = [];
  const corners: (LonLat | Arc)[] = [];
  let plain = upper.slice(found[found.length - 1]?.to ?? 0);
  let radii = 0;
  for (const [i, { at, from, to }] of found.entries()) {
    if (at === undefined) return undefined;
    const before = upper.slice(found[i - 1]?.to ?? 0, from);
    const after = upper.slice(to, found[i + 1]?.from ?? upper.length);
    const arc = arcBefore(before, after);
    if (arc === 'unclear') return undefined;
    if (arc !== undefined) {
      corners.push({ ...arc, centre: at });
      radii += (before.match(/\bRADIUS\b/g) ?? []).length;
      // The words of the arc have been understood; those after its centre belong to the next position.
      continue;
    }
    const afterCentre = corners.length > 0 && 'centre' in (corners[corners.length - 1] ?? {});
    plain += ` ${before}`;
    const radius = radiusIn(RADIUS_BEFORE.exec(before)) ?? radiusIn(RADIUS_AFTER.exec(after));
    if (afterCentre && RADIUS_AFTER.test(before)) {
      radii += 1;
      corners.push(at);
    } else if (radius === undefined) corners.push(at);
    else circles.push({ kind: 'circle', centre: at, radius: metres(radius) });
  }
  if (BENT.test(plain)) return undefined;
  // A radius that belongs to no position, or a circle beside loose positions, is something else than was read.
  if ((upper.match(/\bRADIUS\b/g) ?? []).length !== circles.length + radii) return undefined;
  if (corners.length === 0) return circles;
  const ring = closedRing(corners, found[0]?.finest ?? 'minutes');
  return circles.length > 0 || ring === undefined ? undefined : [{ kind: 'polygons', polygons: [[ring]] }];
};

/** The corners of an outline with those of its arcs; an arc at the end leads back to the first corner. */
const unbent = (outline: readonly (LonLat | Arc)[], written: 'minutes' | 'seconds'): readonly LonLat[] | undefined => {
  const first = outline[0];
  if (first === undefined || 'centre' in first) return undefined;
  const corners: LonLat[] = [];
  for (const [i, part] of outline.entries()) {
    if (!('centre' in part)) {
      corners.push(part);
      continue;
    }
    const from = outline[i - 1];
    const to = outline[i + 1] ?? first;
    if (from === undefined || 'centre' in from || 'centre' in to) return undefined;
    const bend = cornersOfArc(part, from, to, written);
    if (bend === undefined) return undefined;
    corners.push(...bend);
  }
  return corners;
};

/** A ring of at least three different corners whose last, if it repeats the first, is dropped. */
const closedRing = (outline: readonly (LonLat | Arc)[], written: 'minutes' | 'seconds'): Ring | undefined => {
  const corners = unbent(outline, written);
  if (corners === undefined) return undefined;
  const [first] = corners;
  const last = corners[corners.length - 1];
  const isClosed = first !== undefined && last !== undefined && first.lon === last.lon && first.lat === last.lat;
  const ring = isClosed ? corners.slice(0, -1) : corners;
  const different = new Set(ring.map(({ lon, lat }) => `${lon} ${lat}`));
  if (ring.length < 3 || different.size !== ring.length) return undefined;
  // An arc the wrong way round leads through the outline.
  return outline.length < corners.length && crossingEdges(ring) !== undefined ? undefined : ring;
};

import { type ReadPosition, readPosition, sayPositionIn } from '../../plan/scalars/position.ts';

const NUMBER = '([-+]?\\d{1,3}(?:\\.\\d+)?)';

/** Notations with a mark of their own, in the order of latitude and longitude that each has. */
const MARKED: readonly (readonly [RegExp, 'lat lon' | 'lon lat'])[] = [
  // RFC 5870: geo:47.5,-120.4
  [new RegExp(`^geo:${NUMBER},${NUMBER}(?:[,;?].*)?$`, 'i'), 'lat lon'],
  // ISO 19125-1 well-known text: POINT (-120.4 47.5)
  [
    new RegExp(`^(?:SRID=4326;)?POINT\\s*Z?\\s*\\(\\s*${NUMBER}\\s+${NUMBER}(?:\\s+[-+.\\d]+)?\\s*\\)$`, 'i'),
    'lon lat',
  ],
  // RFC 7946: "coordinates": [-120.4, 47.5]
  [new RegExp(`"coordinates"\\s*:\\s*\\[\\s*${NUMBER}\\s*,\\s*${NUMBER}`), 'lon lat'],
  [
    new RegExp(`^\\W*lat(?:itude)?"?\\s*[:=]?\\s*${NUMBER}\\W*\\slon(?:g|gitude)?"?\\s*[:=]?\\s*${NUMBER}\\W*$`, 'i'),
    'lat lon',
  ],
  [
    new RegExp(
      `^\\W*"?lat(?:itude)?"?\\s*[:=]\\s*${NUMBER}\\s*[,;]?\\s*"?l(?:on|ng|ongitude)"?\\s*[:=]\\s*${NUMBER}\\W*$`,
      'i',
    ),
    'lat lon',
  ],
];

/** Six decimals of a degree are 0.1 m; what is written in seconds is not made finer than it was. */
const MOST_DECIMALS = 6;

/**
 * A position in any common notation: what a plan reads (decimal degrees, degrees and minutes, seconds, letters for signs,
 * digits run together as in aeronautical publications), and geo addresses, well-known text, GeoJSON and labelled halves.
 * Two bare numbers in square brackets are refused: which of them is the latitude would be a guess.
 */
export const positionIn = (text: string): ReadPosition | undefined => {
  const trimmed = text
    .trim()
    .replace(/^["'(]+|["')]+$/g, '')
    .replaceAll(/\s+/g, ' ');
  if (trimmed === '' || trimmed.length > 200) return undefined;
  const read = readPosition(trimmed);
  if (read.ok) return read;
  for (const [pattern, order] of MARKED) {
    const match = pattern.exec(text.trim());
    const [, first, second] = match ?? [];
    if (first === undefined || second === undefined) continue;
    const [lat, lon] = order === 'lat lon' ? [first, second] : [second, first];
    const marked = readPosition(`${lat}, ${lon}`);
    if (marked.ok) return marked;
  }
  return undefined;
};

/** `47.5021, -120.4813`, or `{ lat: 47.5021, lon: -120.4813 }` where a comma would make another key. */
export const sayPasted = ({ value, decimals }: ReadPosition, style: 'block' | 'flow'): string => {
  const said = sayPositionIn(value, Math.min(MOST_DECIMALS, Math.max(decimals, 1)));
  const [lat, lon] = said.split(', ');
  return style === 'block' ? said : `{ lat: ${lat}, lon: ${lon} }`;
};

/** Whether a position is written as a plan has it: two decimal numbers, latitude first. */
export const isPlain = (text: string): boolean => /^[-+]?\d+(?:\.\d+)?\s*,\s*[-+]?\d+(?:\.\d+)?$/.test(text.trim());

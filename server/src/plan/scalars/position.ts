import { type LonLat, lonLat } from '../../units/frames.ts';
import { sayNumber } from '../../units/say.ts';
import { type Coordinate, coordinatesOf } from './coordinate.ts';
import { type Reading, type Refusal, refuse } from './reading.ts';

/** A position and the decimals of a degree with which it was written, so that a mended text can keep them. */
export interface ReadPosition {
  readonly value: LonLat;
  readonly decimals: number;
}

/** Latitude and longitude that stand in scalars of their own. */
export interface PositionParts {
  readonly lat: string;
  readonly lon: string;
}

/** As `Refusal`, with the half that is to blame, and both halves anew where they stand in each other's place. */
export interface PartRefusal extends Refusal {
  readonly part: 'lat' | 'lon';
  readonly swappedParts?: PositionParts;
}

/**
 * Reads `47.5021, -120.4813` (latitude first), with letters instead of signs, in degrees, degrees and minutes, or
 * degrees, minutes and seconds, and `473007N 1202852W` as aeronautical publications print it. With letters, longitude
 * may stand first.
 */
export const readPosition = (text: string): Reading<ReadPosition> => {
  const taken = take(text);
  if ('value' in taken) return { ok: true, ...taken };
  if (taken.beyond === undefined) return unreadable(text, taken.reason);
  const { reason } = taken;
  const mended = swapped(text, ...taken.beyond);
  const other = take(mended);
  if (!('value' in other)) return refuse({ kind: 'position-out-of-range', text, reason });
  return refuse({ kind: 'position-out-of-range', text, reason, swapped: other.value, mended });
};

/** Why a text is no position; `beyond` holds its halves, in the order of the text, where only their size is wrong. */
interface Fault {
  readonly reason: string;
  readonly beyond?: readonly [Coordinate, Coordinate];
}

const take = (text: string): ReadPosition | Fault => {
  const halves = coordinatesOf(text);
  if (typeof halves === 'string') return { reason: halves };
  const [first, second] = halves;
  if (first === undefined || second === undefined || halves.length > 2) return { reason: countFault(halves.length) };
  const [lat, lon] = isAxis(first, 'EW') && isAxis(second, 'NS') ? [second, first] : [first, second];
  const fault = lettersFault(lat, lon);
  if (fault !== undefined) return { reason: fault };
  const reason = rangeFault(lat, lon);
  return reason === undefined ? positionOf(lat, lon) : { reason, beyond: [first, second] };
};

/** Reads a position from the texts of its two halves. */
export const readPositionParts = (parts: PositionParts): ({ readonly ok: true } & ReadPosition) | PartRefusal => {
  const lat = partOf(parts.lat, 'lat');
  if ('ok' in lat) return { ...lat, part: 'lat' };
  const lon = partOf(parts.lon, 'lon');
  if ('ok' in lon) return { ...lon, part: 'lon' };
  const fault = lettersFault(lat, lon);
  if (fault !== undefined) {
    const bare = lat.letter === undefined ? 'lat' : 'lon';
    return { ...refuse({ kind: 'position-unreadable', text: parts[bare], reason: fault }), part: bare };
  }
  const reason = rangeFault(lat, lon);
  if (reason === undefined) return { ok: true, ...positionOf(lat, lon) };
  const part = Math.abs(lat.degrees) > 90 ? 'lat' : 'lon';
  const text = parts[part];
  const lettered = lat.letter !== undefined || lon.letter !== undefined;
  if (lettered || rangeFault(lon, lat) !== undefined) {
    return { ...refuse({ kind: 'position-out-of-range', text, reason }), part };
  }
  const { value } = positionOf(lon, lat);
  const swappedParts = { lat: parts.lon, lon: parts.lat };
  return { ...refuse({ kind: 'position-out-of-range', text, reason, swapped: value }), part, swappedParts };
};

/** A position in decimal degrees, latitude first, with a number of decimals. */
export const sayPositionIn = ({ lat, lon }: LonLat, decimals: number): string =>
  `${sayNumber(lat, decimals)}, ${sayNumber(lon, decimals)}`;

const positionOf = (lat: Coordinate, lon: Coordinate): ReadPosition => ({
  value: lonLat(lon.degrees, lat.degrees),
  decimals: Math.max(lat.decimals, lon.decimals),
});

const partOf = (text: string, part: 'lat' | 'lon'): Coordinate | Refusal => {
  const halves = coordinatesOf(text);
  if (typeof halves === 'string') return unreadablePart(text, part, halves);
  const [half] = halves;
  if (half === undefined || halves.length > 1) {
    return unreadablePart(text, part, `${NAMES[part]} is one number, here are ${halves.length}`);
  }
  if (half.letter === undefined || isAxis(half, part === 'lat' ? 'NS' : 'EW')) return half;
  return refuse({ kind: 'position-unreadable', text, reason: `${NAMES[part]} has the letter ${half.letter}` });
};

const NAMES = { lat: 'latitude', lon: 'longitude' } as const;

/** A half with a decimal comma is mended where the result is a half. */
const unreadablePart = (text: string, part: 'lat' | 'lon', reason: string): Refusal => {
  const mended = text.replace(/(\d),(?=\d)/, '$1.');
  const half = mended === text ? undefined : partOf(mended, part);
  const good = half !== undefined && !('ok' in half) && Math.abs(half.degrees) <= (part === 'lat' ? 90 : 180);
  return refuse({
    kind: 'position-unreadable',
    text,
    reason: good ? DECIMAL_COMMA : reason,
    ...(good ? { mended } : {}),
  });
};

const isAxis = (half: Coordinate, axis: 'NS' | 'EW'): boolean =>
  half.letter !== undefined && axis.includes(half.letter);

const countFault = (count: number): string => {
  if (count === 0) return 'it is empty; a position is latitude, longitude';
  return `it has ${count === 1 ? 'one part' : `${count} parts`}; a position is latitude, longitude`;
};

const lettersFault = (lat: Coordinate, lon: Coordinate): string | undefined => {
  if (lat.letter === undefined && lon.letter === undefined) return undefined;
  if (lat.letter === undefined || lon.letter === undefined)
    return 'only one of its two halves has a letter N, S, E or W';
  if (isAxis(lat, 'NS') && isAxis(lon, 'EW')) return undefined;
  return `both halves lie on one axis (${lat.letter} and ${lon.letter})`;
};

const rangeFault = (lat: Coordinate, lon: Coordinate): string | undefined => {
  if (Math.abs(lat.degrees) > 90) return `latitude ${lat.numbers} lies beyond 90 degrees`;
  return Math.abs(lon.degrees) > 180 ? `longitude ${lon.numbers} lies beyond 180 degrees` : undefined;
};

/** The text with its numbers in each other's place; letters stay, since they name the place. */
const swapped = (text: string, first: Coordinate, second: Coordinate): string => {
  const put = (half: Coordinate, numbers: string): string =>
    text.slice(half.from, half.to).replace(half.numbers, () => numbers);
  const between = text.slice(first.to, second.from);
  return (
    text.slice(0, first.from) +
    put(first, second.numbers) +
    between +
    put(second, first.numbers) +
    text.slice(second.to)
  );
};

const DECIMAL_COMMA = 'its decimals follow a comma; a decimal point is wanted';

/** The first mended text that is a position goes along. */
const unreadable = (text: string, reason: string): Refusal => {
  const points = withPoints(text);
  if (points !== undefined) return refuse({ kind: 'position-unreadable', text, reason: DECIMAL_COMMA, mended: points });
  const comma = withComma(text);
  if (comma === undefined) return refuse({ kind: 'position-unreadable', text, reason });
  return refuse({ kind: 'position-unreadable', text, reason: 'a comma is missing between its halves', mended: comma });
};

const isPosition = (text: string): boolean => 'value' in take(text);

/**
 * Decimal commas turned into points: a comma between two digits, unless it is the only mark between the halves. Three
 * of them without a blank, as in `47,5021,8,4813`, are a decimal comma, the comma of the position, and another.
 */
const withPoints = (text: string): string | undefined => {
  const tight = text.match(/\d,(?=\d)/g)?.length ?? 0;
  if (tight === 0) return undefined;
  const loose = /,(?!\d)|(?<!\d),|;/.test(text);
  let seen = 0;
  const mended = text.replace(/(\d),(?=\d)/g, (all, digit: string) => {
    seen++;
    return tight === 3 && !loose && seen === 2 ? `${all} ` : `${digit}.`;
  });
  if (isPosition(mended)) return mended;
  return withComma(mended);
};

/** Two numbers with only a blank between them, the first with decimals, so that the second cannot be its minutes. */
const withComma = (text: string): string | undefined => {
  const mended = text.replace(/^(\s*[+\-\u2212]?\d+\.\d+)\s+(?=[+\-\u2212]?\d)/, '$1, ');
  return mended !== text && isPosition(mended) ? mended : undefined;
};

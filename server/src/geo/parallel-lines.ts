import type { LonLat } from '../units/frames.ts';
import { flatFrame, middleOf } from './flat-frame.ts';

/** One line of a pattern, in the direction of flight. */
export interface FlightLine {
  readonly start: LonLat;
  readonly end: LonLat;
}

/** How the lines over an outline are wanted. */
export interface LinesWanted {
  /** True course of the first line in degrees, at the middle of the outline. */
  readonly course: number;
  /** Metres from line to line. */
  readonly spacing: number;
  /** On which side of the first line the second one lies, seen in its direction. */
  readonly firstTurn: 'left' | 'right';
  /** More lines than these are not worked out. */
  readonly most: number;
}

/** The lines, or how many there would be. */
export type LinesOver = { readonly lines: readonly FlightLine[] } | { readonly tooMany: number };

/**
 * Positions are written to a tenth of a metre or so: an outline that is wider than so many spacings by less than this does
 * not get a line more for it.
 */
const AS_WRITTEN = 0.1;

const RADIANS = Math.PI / 180;

/** Extent along the lines of the part of an outline that belongs to one line. */
interface Extent {
  from: number;
  to: number;
}

/**
 * Parallel lines over a ring, flown to and fro. The ring is parted into strips as wide as the spacing, as many as it takes,
 * with an equal overhang on both sides. A line lies in the middle of each strip and is as long as what the ring has in the
 * strip; so every place inside is within half a spacing (and 5 cm) of a line, and a ring thinner than the
 * spacing has one line. A line is flown without a break, also over a bay of the ring. The edges of the ring are straight in
 * the frame around its middle; against edges straight in longitude and latitude that is under 0.1 m in 1 km up to 70° of
 * latitude.
 */
export const linesOver = (ring: readonly LonLat[], wanted: LinesWanted): LinesOver => {
  const { course, spacing, firstTurn, most } = wanted;
  const centre = middleOf(ring);
  if (centre === undefined) return { lines: [] };
  const frame = flatFrame(centre);
  const [sin, cos] = [Math.sin(course * RADIANS), Math.cos(course * RADIANS)];
  const side = firstTurn === 'right' ? 1 : -1;
  // Along the first line, and across it towards the second.
  const corners = ring.map((corner) => {
    const { x, y } = frame.place(corner);
    return { along: x * sin + y * cos, across: side * (x * cos - y * sin) };
  });
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { across } of corners) {
    least = Math.min(least, across);
    greatest = Math.max(greatest, across);
  }
  const count = Math.max(1, Math.ceil((greatest - least - AS_WRITTEN) / spacing));
  if (count > most) return { tooMany: count };
  const first = (least + greatest) / 2 - (count * spacing) / 2;
  const extents: Extent[] = Array.from({ length: count }, () => ({
    from: Number.POSITIVE_INFINITY,
    to: Number.NEGATIVE_INFINITY,
  }));
  const stripOf = (across: number): number => Math.min(count - 1, Math.max(0, Math.floor((across - first) / spacing)));
  const put = (strip: number, along: number): void => {
    const extent = extents[strip];
    if (extent === undefined) return;
    extent.from = Math.min(extent.from, along);
    extent.to = Math.max(extent.to, along);
  };
  corners.forEach((one, i) => {
    const other = corners[i + 1] ?? corners[0] ?? one;
    // The same way round for both directions of an edge, so that the digits do not hang on where the ring starts.
    const [low, high] = one.across <= other.across ? [one, other] : [other, one];
    put(stripOf(low.across), low.along);
    put(stripOf(high.across), high.along);
    for (let strip = stripOf(low.across); strip < stripOf(high.across); strip++) {
      const border = first + (strip + 1) * spacing;
      const share = Math.min(1, Math.max(0, (border - low.across) / (high.across - low.across)));
      const along = low.along + share * (high.along - low.along);
      put(strip, along);
      put(strip + 1, along);
    }
  });
  const back = (along: number, across: number): LonLat =>
    frame.back({ x: along * sin + side * across * cos, y: along * cos - side * across * sin });
  const lines = extents.map(({ from, to }, i): FlightLine => {
    const across = first + (i + 0.5) * spacing;
    const [start, end] = [back(from, across), back(to, across)];
    return i % 2 === 0 ? { start, end } : { start: end, end: start };
  });
  return { lines };
};

import { type Box, boxesMeet } from '../geo/box.ts';
import type { Airspace } from './world.ts';
import type { Zone } from './zone.ts';

/** Edge in degrees of the index's squares: a fraction of a control zone, many times a flight. */
const SQUARE = 0.25;
/** Boxes this near in degrees touch: a tenth of a millimetre, more than rounding makes. */
const TOUCH = 1e-9;
/** A zone that would fill more squares than this is looked at every time instead. */
const MOST_SQUARES = 400;

/** Squares that a box touches; undefined for too many. */
const squaresOf = (box: Box): readonly string[] | undefined => {
  const west = Math.floor((box.west - TOUCH) / SQUARE);
  const width = box.east >= box.west ? box.east - box.west : box.east - box.west + 360;
  const columns = Math.floor((box.west + width + TOUCH) / SQUARE) - west + 1;
  const south = Math.floor((box.south - TOUCH) / SQUARE);
  const rows = Math.floor((box.north + TOUCH) / SQUARE) - south + 1;
  if (columns * rows > MOST_SQUARES) return undefined;
  const around = 360 / SQUARE;
  const squares: string[] = [];
  for (let row = south; row < south + rows; row++) {
    for (let column = west; column < west + columns; column++) {
      squares.push(`${((column % around) + around) % around} ${row}`);
    }
  }
  return squares;
};

/** Whether one box holds the whole of another. */
const holds = (whole: Box, part: Box): boolean => {
  if (part.south < whole.south || part.north > whole.north) return false;
  const widthOf = (box: Box): number => (box.east >= box.west ? box.east - box.west : box.east - box.west + 360);
  const offset = (((part.west - whole.west) % 360) + 360) % 360;
  return widthOf(whole) >= 360 || offset + widthOf(part) <= widthOf(whole);
};

/**
 * Airspace of a list of zones, found by box. `covered` are the boxes that the sources say they cover, each as a whole;
 * without them the sources are taken at their word for everywhere they are used.
 */
export const airspaceOf = (zones: readonly Zone[], covered?: readonly Box[]): Airspace => {
  const bySquare = new Map<string, number[]>();
  const everywhere: number[] = [];
  zones.forEach((zone, index) => {
    const squares = squaresOf(zone.box);
    if (squares === undefined) everywhere.push(index);
    for (const square of squares ?? []) {
      const there = bySquare.get(square);
      if (there === undefined) bySquare.set(square, [index]);
      else there.push(index);
    }
  });
  return {
    zonesIn: (box) => {
      const squares = squaresOf(box);
      if (squares === undefined) return zones.filter((zone) => boxesMeet(zone.box, box));
      const found = new Set(everywhere);
      for (const square of squares) for (const index of bySquare.get(square) ?? []) found.add(index);
      return [...found]
        .sort((one, other) => one - other)
        .flatMap((index) => zones[index] ?? [])
        .filter((zone) => boxesMeet(zone.box, box));
    },
    covers: (box) => covered === undefined || covered.some((whole) => holds(whole, box)),
  };
};

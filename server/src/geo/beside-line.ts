import type { LonLat } from '../units/frames.ts';
import { type FlatFrame, flatFrame, middleOf } from './flat-frame.ts';
import type { PlanePoint } from './straight-pieces.ts';

/** A line from corner to corner, laid flat: at least two corners, none upon the one before. */
export interface FlatLine {
  readonly frame: FlatFrame;
  readonly corners: readonly PlanePoint[];
}

/** Corners nearer to each other than this are one, in metres. */
const SAME_PLACE = 0.001;

/** Undefined for a line without length. */
export const flatLine = (places: readonly LonLat[]): FlatLine | undefined => {
  const centre = middleOf(places);
  if (centre === undefined) return undefined;
  const frame = flatFrame(centre);
  const corners: PlanePoint[] = [];
  for (const at of places) {
    const corner = frame.place(at);
    const before = corners.at(-1);
    if (before === undefined || Math.hypot(corner.x - before.x, corner.y - before.y) > SAME_PLACE) corners.push(corner);
  }
  return corners.length < 2 ? undefined : { frame, corners };
};

/** The line beside another, or the corner of that (counted from 0) that is too sharp or too near to the next one for it. */
export type BesideLine = { readonly places: readonly LonLat[] } | { readonly tooSharpAt: number };

/** A line that turns by more than this has no line beside it that keeps its distance: 120°. */
const SHARPEST = Math.cos((120 * Math.PI) / 180);

interface Direction {
  readonly x: number;
  readonly y: number;
}

const directionOf = (from: PlanePoint, to: PlanePoint): Direction => {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
};

/**
 * The line that runs a number of metres to the right of another (to the left where it is negative), seen in its direction:
 * each side is moved by that distance, and sides are lengthened or shortened to where they meet.
 */
export const besideLine = ({ frame, corners }: FlatLine, distance: number): BesideLine => {
  if (distance === 0) return { places: corners.map((corner) => frame.back(corner)) };
  const sides = corners.slice(1).map((to, i) => directionOf(corners[i] ?? to, to));
  const moved: PlanePoint[] = [];
  for (let i = 0; i < corners.length; i++) {
    const corner = corners[i];
    const before = sides[i - 1] ?? sides[i];
    const after = sides[i] ?? before;
    if (corner === undefined || before === undefined || after === undefined) continue;
    const cosine = before.x * after.x + before.y * after.y;
    if (cosine < SHARPEST) return { tooSharpAt: i };
    // The right-hand normal of (x, y) is (y, -x).
    const reach = distance / (1 + cosine);
    moved.push({ x: corner.x + reach * (before.y + after.y), y: corner.y - reach * (before.x + after.x) });
  }
  for (let i = 0; i + 1 < moved.length; i++) {
    const [from, to, side] = [moved[i], moved[i + 1], sides[i]];
    if (from === undefined || to === undefined || side === undefined) continue;
    // A side that has turned round lies on the inside of a bend that is tighter than the distance.
    if ((to.x - from.x) * side.x + (to.y - from.y) * side.y <= 0) return { tooSharpAt: i === 0 ? 1 : i };
  }
  return { places: moved.map((corner) => frame.back(corner)) };
};

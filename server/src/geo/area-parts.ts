import { type LonLat, lonLat } from '../units/frames.ts';
import { boxAround, wrapLongitude } from './box.ts';
import { distance } from './geodesy.ts';
import { distanceToShape, type Shape } from './shape.ts';

/** A piece of an area: straight in longitude and latitude, with its corners in a ring. */
export interface AreaPart {
  readonly corners: readonly LonLat[];
  readonly centre: LonLat;
  /** No place of the part is farther from its centre than this, in metres over the ground. */
  readonly reach: number;
  /** Whether the centre lies in the area; of a part at its edge it may not. */
  readonly centred: boolean;
}

/** What is known of one part: nothing in it is beyond the limit, some place is, or neither is proven yet. */
export type PartVerdict = 'proven' | 'open' | { readonly beyond: LonLat };

export type AreaVerdict =
  | { readonly kind: 'within' }
  | { readonly kind: 'over'; readonly at: LonLat }
  /** Neither proven nor disproven around a place. */
  | { readonly kind: 'undecided'; readonly at: LonLat };

/** Parts smaller than this are not cut again, in metres from the centre to a corner. */
const SMALLEST = 0.2;

/** Parts after which an area is given up. */
const MOST_PARTS = 4000;

/** Parts that are looked at in one step. One takes a tenth of a millisecond or two. */
const PARTS_IN_STEP = 2;

interface Sides {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

const placeAt = (lon: number, lat: number): LonLat => lonLat(wrapLongitude(lon), lat);

const partOf = (sides: Sides, shape: Shape): AreaPart | undefined => {
  const { west, east, south, north } = sides;
  const corners = [placeAt(west, south), placeAt(east, south), placeAt(east, north), placeAt(west, north)];
  const centre = placeAt((west + east) / 2, (south + north) / 2);
  // A millimetre for the bend of the sides.
  const reach = Math.max(...corners.map((corner) => distance(centre, corner))) + 0.001;
  const away = distanceToShape(shape, centre);
  // Far from a shape the distance to it is exact to one in a thousand.
  return away * 0.998 > reach ? undefined : { corners, centre, reach, centred: away === 0 };
};

const quarters = ({ west, east, south, north }: Sides): readonly Sides[] => {
  const [lon, lat] = [(west + east) / 2, (south + north) / 2];
  return [
    { west, east: lon, south, north: lat },
    { west: lon, east, south, north: lat },
    { west, east: lon, south: lat, north },
    { west: lon, east, south: lat, north },
  ];
};

/**
 * Judges an area part by part. A part of which nothing is proven is cut in four; the larger parts come first, so that a
 * breach is found early. Certified, not sampled: "within" means that every part of the area was proven.
 */
export function* judgeParts(
  shape: Shape,
  ring: readonly LonLat[],
  judge: (part: AreaPart) => PartVerdict,
): Generator<void, AreaVerdict> {
  const box = boxAround(ring);
  if (box === undefined) return { kind: 'within' };
  const east = box.east >= box.west ? box.east : box.east + 360;
  const waiting: Sides[] = [{ west: box.west, east, south: box.south, north: box.north }];
  for (let i = 0; i < waiting.length; i++) {
    const sides = waiting[i];
    if (sides === undefined) break;
    if (i > 0 && i % PARTS_IN_STEP === 0) yield;
    const part = partOf(sides, shape);
    if (part === undefined) continue;
    const verdict = judge(part);
    if (verdict === 'proven') continue;
    if (verdict !== 'open') return { kind: 'over', at: verdict.beyond };
    if (part.reach < SMALLEST || waiting.length > MOST_PARTS) return { kind: 'undecided', at: part.centre };
    waiting.push(...quarters(sides));
  }
  return { kind: 'within' };
}

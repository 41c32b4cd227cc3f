import { longitudeStep } from '../geo/box.ts';
import { destination } from '../geo/geodesy.ts';
import { planeAround, type Shape } from '../geo/shape.ts';
import { degrees, type LonLat, lonLat } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';

/** A place on a map, in units of the picture. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/**
 * How places come onto a map: distances and directions from its middle are true (azimuthal equidistant on the ellipsoid),
 * north is up.
 */
export interface MapFrame {
  readonly middle: LonLat;
  readonly width: number;
  readonly height: number;
  /** Units of the picture to a metre. */
  readonly scale: number;
  spot(at: LonLat): Spot;
}

/** A flight over one place gets this much ground around it, in metres. */
const LEAST = 120;

const middleOf = (places: readonly LonLat[]): LonLat => {
  const [first] = places;
  if (first === undefined) return lonLat(0, 0);
  const east = places.map(({ lon }) => longitudeStep(first.lon, lon));
  const lats = places.map(({ lat }) => lat as number);
  const between = (values: readonly number[]): number =>
    (values.reduce((one, other) => Math.min(one, other)) + values.reduce((one, other) => Math.max(one, other))) / 2;
  return { lon: degrees(first.lon + between(east)), lat: degrees(between(lats)) };
};

/** A map that shows all places with a margin, at most so wide and so high. */
export const frameAround = (places: readonly LonLat[], width: number, most: number): MapFrame => {
  const middle = middleOf(places);
  const plane = planeAround(middle);
  // Items, legs and crew share their places.
  const known = new WeakMap<LonLat, Spot>();
  const lay = (at: LonLat): Spot => {
    const before = known.get(at);
    if (before !== undefined) return before;
    const place = plane.place(at);
    known.set(at, place);
    return place;
  };
  const laid = places.map(lay);
  const reach = (of: (spot: Spot) => number): number =>
    laid.reduce((all, spot) => Math.max(all, Math.abs(of(spot))), LEAST / 2);
  const [east, north] = [reach(({ x }) => x), reach(({ y }) => y)];
  const margin = 48;
  const scale = Math.min((width / 2 - margin) / east, (most / 2 - margin) / north);
  const height = Math.min(most, Math.max(width * 0.5, 2 * (north * scale + margin)));
  return {
    middle,
    width,
    height,
    scale,
    spot: (at) => {
      const { x, y } = lay(at);
      return { x: width / 2 + x * scale, y: height / 2 - y * scale };
    },
  };
};

const CIRCLE = 48;

/** The rings of a shape on the map; what is nearer together than half a unit is one. */
export const ringsOf = (shape: Shape, frame: MapFrame): readonly (readonly Spot[])[] => {
  const rings =
    shape.kind === 'circle'
      ? [Array.from({ length: CIRCLE }, (_, i) => destination(shape.centre, (360 * i) / CIRCLE, shape.radius))]
      : shape.polygons.flat();
  return rings.map((ring) => {
    const spots: Spot[] = [];
    for (const at of ring) {
      const spot = frame.spot(at);
      const last = spots[spots.length - 1];
      if (last === undefined || Math.hypot(spot.x - last.x, spot.y - last.y) >= 0.5) spots.push(spot);
    }
    return spots;
  });
};

const inBounds = (value: number): number => Math.max(-20_000, Math.min(20_000, value));

export const pathOf = (spots: readonly Spot[], closed: 'Z' | '' = ''): string =>
  spots.length === 0
    ? ''
    : `${spots.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${sayNumber(inBounds(x))} ${sayNumber(inBounds(y))}`).join('')}${closed}`;

/** Whether a spot lies inside rings, a ring inside another one being a hole. */
export const liesInside = (rings: readonly (readonly Spot[])[], { x, y }: Spot): boolean => {
  let inside = false;
  for (const ring of rings) {
    ring.forEach((one, i) => {
      const other = ring[i - 1] ?? ring[ring.length - 1] ?? one;
      if (one.y > y !== other.y > y && x < one.x + ((other.x - one.x) * (y - one.y)) / (other.y - one.y))
        inside = !inside;
    });
  }
  return inside;
};

/** Spots of the picture at which it is looked for what lies there. */
const GRID = 9;

/** How much of the map a shape takes, as shares of a grid of spots, and the spots of it that lie inside. */
export const spotsInside = (rings: readonly (readonly Spot[])[], { width, height }: MapFrame): readonly Spot[] => {
  const spots: Spot[] = [];
  for (let i = 1; i <= GRID; i++) {
    for (let j = 1; j <= GRID; j++) {
      const spot = { x: (width * i) / (GRID + 1), y: (height * j) / (GRID + 1) };
      if (liesInside(rings, spot)) spots.push(spot);
    }
  }
  return spots;
};

export const ALL_SPOTS = GRID * GRID;

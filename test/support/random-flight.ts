import fc from 'fast-check';
import { wrapLongitude } from '../../server/src/geo/box.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import type { Zone } from '../../server/src/world/zone.ts';
import { seeded } from './random.ts';

/**
 * Small random flights over small random ground, for the laws: everything is data, so that a law can change one thing
 * and write plan and world again. Places are shares of the ground's square, from west to east and from south to north.
 */
export interface FlightDraft {
  readonly elevation: number | undefined;
  readonly climbTo: HeightDraft | undefined;
  readonly takeOff: Spot;
  readonly items: readonly ItemDraft[];
  readonly pilot: Spot | 'take-off';
  readonly airSpeed: boolean;
  readonly visibility: number | undefined;
  readonly purpose: 'client' | 'recreation';
}

export interface Spot {
  readonly u: number;
  readonly v: number;
}

export type DatumDraft = 'AGL' | 'AMSL' | 'above take-off';

/** Metres above ground or take-off, or above 400 m above the sea. */
export interface HeightDraft {
  readonly datum: DatumDraft;
  readonly metres: number;
}

export type ItemDraft =
  | { readonly kind: 'point'; readonly spot: Spot; readonly height: HeightDraft; readonly follows: boolean }
  | {
      readonly kind: 'area';
      readonly spot: Spot;
      readonly reach: number;
      readonly corners: 'circle' | 'square';
      readonly from: HeightDraft;
      readonly thick: number;
    };

export interface WorldDraft {
  /** South-west corner in degrees. */
  readonly west: number;
  readonly south: number;
  readonly ground: GroundDraft;
  readonly error: number;
  readonly zones: readonly ZoneDraft[];
  readonly obstacles: readonly ObstacleDraft[];
}

/** Random hills of so many metres above 400 m, some nodes then moved by up to so many metres up or down. */
export interface GroundDraft {
  readonly seed: number;
  readonly relief: number;
  readonly moved?: { readonly seed: number; readonly by: number };
}

export interface ZoneDraft {
  readonly spot: Spot;
  readonly reach: number;
  readonly shape: 'circle' | 'triangle';
  readonly kind: Zone['kind'];
  readonly floor: EdgeDraft;
  readonly ceiling: EdgeDraft;
}

export type EdgeDraft = 'open' | HeightDraft;

export interface ObstacleDraft {
  readonly spot: Spot;
  readonly radius: number;
  readonly top: HeightDraft;
}

/** Sea level of the heights above mean sea level in drafts. */
export const BASE = 400;
/** Nodes a side and degrees a step: a square of 1.6 km from south to north. */
export const NODES = 25;
export const STEP = 1 / 1667;
/** In the box that the rules have for Alaska, on either side of the 180° meridian. */
export const WEST = -171.5;
export const SOUTH = 52.25;

const spotIn = (edge: number): fc.Arbitrary<Spot> =>
  fc.record({
    u: fc.double({ min: edge, max: 1 - edge, noNaN: true }),
    v: fc.double({ min: edge, max: 1 - edge, noNaN: true }),
  });

const heightIn = (datums: readonly DatumDraft[]): fc.Arbitrary<HeightDraft> =>
  fc.record({ datum: fc.constantFrom(...datums), metres: fc.integer({ min: 4, max: 190 }) });

const itemIn = (datums: readonly DatumDraft[]): fc.Arbitrary<ItemDraft> =>
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({
        kind: fc.constant('point' as const),
        spot: spotIn(0.06),
        height: heightIn(datums),
        follows: datums.includes('AGL') ? fc.integer({ min: 0, max: 5 }).map((n) => n === 0) : fc.constant(false),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('area' as const),
        spot: spotIn(0.2),
        reach: fc.integer({ min: 10, max: 150 }),
        corners: fc.constantFrom('circle' as const, 'square' as const),
        from: heightIn(datums),
        thick: fc.integer({ min: 0, max: 60 }),
      }),
    },
  );

/** Flights that write their heights from the given datums only. */
export const flights = (datums: readonly DatumDraft[]): fc.Arbitrary<FlightDraft> =>
  fc.record({
    elevation: fc.option(fc.integer({ min: 395, max: 470 }), { nil: undefined }),
    climbTo: fc.option(heightIn(datums), { nil: undefined }),
    takeOff: spotIn(0.06),
    items: fc.array(itemIn(datums), { minLength: 1, maxLength: 4 }),
    pilot: fc.oneof(fc.constant('take-off' as const), spotIn(0.06)),
    airSpeed: fc.boolean(),
    visibility: fc.option(fc.integer({ min: 200, max: 6000 }), { nil: undefined }),
    purpose: fc.constantFrom('client' as const, 'recreation' as const),
  });

const edge: fc.Arbitrary<EdgeDraft> = fc.oneof(fc.constant('open' as const), heightIn(['AGL', 'AMSL']));

export const zone: fc.Arbitrary<ZoneDraft> = fc.record({
  spot: spotIn(0),
  reach: fc.integer({ min: 5, max: 900 }),
  shape: fc.constantFrom('circle' as const, 'triangle' as const),
  kind: fc.constantFrom('prohibited' as const, 'restricted' as const, 'danger' as const, 'house' as const),
  floor: edge,
  ceiling: edge,
});

/** Heights of the nodes above the sea, the northernmost row first; smoothed once, so that slopes are those of hills. */
export const rowsOf = ({ seed, relief, moved }: GroundDraft): readonly (readonly number[])[] => {
  const random = seeded(seed);
  const rough = Array.from({ length: NODES }, () => Array.from({ length: NODES }, () => random()));
  const at = (row: number, column: number): number => rough[(row + NODES) % NODES]?.[(column + NODES) % NODES] ?? 0;
  const shift = seeded(moved?.seed ?? 0);
  return rough.map((cells, row) =>
    cells.map((cell, column) => {
      const around = at(row - 1, column) + at(row + 1, column) + at(row, column - 1) + at(row, column + 1);
      const by = moved !== undefined && shift() < 0.3 ? moved.by * shift() : 0;
      return BASE + relief * (cell / 2 + around / 8) + by;
    }),
  );
};

export const worlds: fc.Arbitrary<WorldDraft> = fc.record({
  west: fc.constant(WEST),
  south: fc.constant(SOUTH),
  ground: fc.record({ seed: fc.integer(), relief: fc.constantFrom(0, 30, 90, 200) }),
  error: fc.constantFrom(0, 9),
  zones: fc.array(zone, { maxLength: 3 }),
  obstacles: fc.array(
    fc.record({
      spot: spotIn(0.06),
      radius: fc.integer({ min: 0, max: 60 }),
      top: heightIn(['AGL', 'AMSL']),
    }),
    { maxLength: 3 },
  ),
});

// ── places

const SIDE = (NODES - 1) * STEP;
/** Metres of a degree of latitude and of longitude at these latitudes, good to 1 %: drafts need no more. */
const PER_LATITUDE = 111_270;
const PER_LONGITUDE = PER_LATITUDE * Math.cos((SOUTH * Math.PI) / 180);

/** Longitude and latitude of a spot, the longitude in [-180, 180). */
export const placeOf = ({ u, v }: Spot, { west, south }: WorldDraft) =>
  lonLat(wrapLongitude(west + u * SIDE), south + v * SIDE);

/** The spot so many metres further east and north. */
export const beside = ({ u, v }: Spot, east: number, north: number): Spot => ({
  u: u + east / PER_LONGITUDE / SIDE,
  v: v + north / PER_LATITUDE / SIDE,
});

/** The spot so many metres further north. */
export const northOf = (spot: Spot, by: number): Spot => beside(spot, 0, by);

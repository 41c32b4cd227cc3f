import fc from 'fast-check';
import type { Box } from '../../server/src/geo/box.ts';
import { boxAround, growBox, wrapLongitude } from '../../server/src/geo/box.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { aboveGround, aboveSea, lonLat, metres } from '../../server/src/units/frames.ts';
import type { Obstacle } from '../../server/src/world/obstacle.ts';
import { gridFromRows } from '../../server/src/world/small-grid.ts';
import { terrainOf } from '../../server/src/world/terrain-of-grids.ts';
import type { World } from '../../server/src/world/world.ts';
import type { Zone, ZoneEdge, ZoneShape } from '../../server/src/world/zone.ts';
import { airspaceOf } from '../../server/src/world/zones-in-box.ts';
import { seeded } from './random.ts';
import { list, type Node, pairs, scalar, type WritingStyle, writePlan } from './write-plan.ts';

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

const beside = ({ u, v }: Spot, east: number, north: number): Spot => ({
  u: u + east / PER_LONGITUDE / SIDE,
  v: v + north / PER_LATITUDE / SIDE,
});

/** The spot so many metres further north. */
export const northOf = (spot: Spot, by: number): Spot => beside(spot, 0, by);

// ── the world

const edgeOf = (given: EdgeDraft, whenOpen: 'surface' | 'unlimited'): ZoneEdge => {
  if (given === 'open') return whenOpen;
  return given.datum === 'AGL'
    ? { aboveGround: aboveGround(given.metres) }
    : { aboveSea: aboveSea(BASE + given.metres) };
};

const shapeOf = ({ spot, reach, shape }: ZoneDraft, world: WorldDraft): ZoneShape => {
  if (shape === 'circle') return { kind: 'circle', centre: placeOf(spot, world), radius: metres(reach) };
  const corners = [beside(spot, 0, reach), beside(spot, -reach, -reach), beside(spot, reach, -reach / 2)].map(
    (corner) => placeOf(corner, world),
  );
  return { kind: 'polygons', polygons: [[corners]] };
};

export const zoneOf = (draft: ZoneDraft, index: number, world: WorldDraft): Zone => {
  const box = boxAround([placeOf(draft.spot, world)]);
  if (box === undefined) throw new Error('a zone without a place');
  return {
    id: `zone-${index}`,
    name: `zone ${index}`,
    kind: draft.kind,
    shape: shapeOf(draft, world),
    box: growBox(box, 2 * draft.reach),
    floor: edgeOf(draft.floor, 'surface'),
    ceiling: edgeOf(draft.ceiling, 'unlimited'),
  };
};

const obstacleOf = ({ spot, radius, top }: ObstacleDraft, index: number, world: WorldDraft): Obstacle => ({
  name: `mast ${index}`,
  at: placeOf(spot, world),
  radius: metres(radius),
  top: top.datum === 'AGL' ? { aboveGround: aboveGround(top.metres) } : { aboveSea: aboveSea(BASE + top.metres) },
});

export const gridOf = ({ west, south, ground, error }: WorldDraft): HeightGrid =>
  gridFromRows(west, south, STEP, rowsOf(ground), error);

const covered = (world: WorldDraft): Box => {
  const box = boxAround([placeOf({ u: 0, v: 0 }, world), placeOf({ u: 1, v: 1 }, world)]);
  if (box === undefined) throw new Error('a world without ground');
  return growBox(box, 5000);
};

const AIRCRAFT = readAircraft(
  'aircraft: 1\nname: dabchick-7\nkind: multirotor\nmass: 1.4 kg\nsize: 0.9 m\nmax-speed: 16 m/s\nregistration: { number: FA3DABCHK7, expires: 2029-03-31 }\nremote-identification: { means: standard, serial: WAYWD0000007 }\n',
  'craft.aircraft.yaml',
);

export const worldOf = (draft: WorldDraft): World => ({
  terrain: terrainOf([{ grid: gridOf(draft) }]),
  airspace: airspaceOf(
    draft.zones.map((one, index) => zoneOf(one, index, draft)),
    [covered(draft)],
  ),
  obstacles: draft.obstacles.map((one, index) => obstacleOf(one, index, draft)),
  aircraft: AIRCRAFT,
  problems: new Map(),
  data: [{ name: 'ground.tif', edition: '2026-06-01' }],
});

// ── the plan

const digits = (value: number, decimals: number): string => value.toFixed(decimals).replace(/\.?0+$/, '');

/** Twelve decimals of a degree are a ten-thousandth of a millimetre. */
const position = (spot: Spot, world: WorldDraft): Node => {
  const at = placeOf(spot, world);
  return pairs(['lat', scalar(digits(at.lat, 12))], ['lon', scalar(digits(at.lon, 12))]);
};

const height = ({ datum, metres: above }: HeightDraft): Node =>
  scalar(`${digits(datum === 'AMSL' ? BASE + above : above, 9)} m ${datum}`);

export interface Names {
  readonly home: string;
  readonly item: (index: number) => string;
}

export const USUAL_NAMES: Names = { home: 'home', item: (index) => `stop-${index}` };

const itemNode = (item: ItemDraft, index: number, flight: FlightDraft, world: WorldDraft, names: Names): Node => {
  const speed: readonly [string, Node] = ['speed', scalar(flight.airSpeed ? '9 m/s through air' : '9 m/s over ground')];
  if (item.kind === 'point') {
    const follows: readonly [string, Node | undefined] = [
      'follows',
      item.follows ? scalar('60 m AGL within 5 m') : undefined,
    ];
    return pairs(
      ['point', scalar(names.item(index))],
      ['at', position(item.spot, world)],
      ['altitude', height(item.height)],
      ['leg', pairs(speed, follows)],
    );
  }
  const { spot, reach, corners, from, thick } = item;
  const square = [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ].map(([east = 0, north = 0]) => position(beside(spot, east * reach, north * reach), world));
  const inside =
    corners === 'circle'
      ? pairs(['circle', scalar(`${reach} m`)], ['around', position(spot, world)])
      : pairs(['polygon', list(square)]);
  return pairs(
    ['area', scalar(names.item(index))],
    ['inside', inside],
    ['from', height(from)],
    ['to', height({ ...from, metres: from.metres + thick })],
    ['for', scalar('4 min')],
  );
};

/** The plan of a draft as text. */
export const textOf = (
  flight: FlightDraft,
  world: WorldDraft,
  style: WritingStyle = { style: 'block' },
  names: Names = USUAL_NAMES,
): string => {
  const { elevation, climbTo, visibility, pilot } = flight;
  const home = placeOf(flight.takeOff, world);
  const stands = pilot === 'take-off' ? scalar('take-off') : position(pilot, world);
  const seen: readonly (readonly [string, Node])[] = [
    ['seen', scalar('2026-06-12')],
    ['by', scalar('pilot')],
  ];
  return writePlan(
    pairs(
      ['mission', scalar('1')],
      ['title', scalar('made for a law')],
      ['purpose', scalar(flight.purpose === 'client' ? 'survey of a reed bed' : 'recreation')],
      ['country', scalar('US')],
      ['window', pairs(['from', scalar('2026-06-14 18:40 Z')], ['until', scalar('2026-06-14 19:10 Z')])],
      ['aircraft', scalar('craft.aircraft.yaml')],
      [
        'site',
        pairs([
          'take-off',
          pairs(
            ['lat', scalar(digits(home.lat, 12))],
            ['lon', scalar(digits(home.lon, 12))],
            ['elevation', elevation === undefined ? undefined : scalar(`${elevation} m`)],
          ),
        ]),
      ],
      [
        'crew',
        pairs(['pilot', pairs(['stands', stands], ['held', scalar('remote pilot')], ['tested', scalar('2025-11-03')])]),
      ],
      ['terrain', scalar('ground.tif')],
      ['airspace', list([scalar('zones.geojson')])],
      ['obstacles', pairs(['files', list([scalar('masts.geojson')])])],
      ['people', pairs(['none-within', scalar('150 m')], ...seen)],
      [
        'weather',
        pairs(
          ['wind', pairs(['from', scalar('240 deg')], ['speed', scalar('3 m/s')], ['gust', scalar('5 m/s')])],
          ['visibility', visibility === undefined ? undefined : scalar(`${visibility} m`)],
        ),
      ],
      [
        'route',
        list([
          pairs(['take-off', scalar(names.home)], ['climb-to', climbTo === undefined ? undefined : height(climbTo)]),
          ...flight.items.map((item, index) => itemNode(item, index, flight, world, names)),
          pairs(['land', scalar(names.home)]),
        ]),
      ],
    ),
    style,
  );
};

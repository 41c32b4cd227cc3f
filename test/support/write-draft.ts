import { type Box, boxAround, growBox } from '../../server/src/geo/box.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { aboveGround, aboveSea, metres } from '../../server/src/units/frames.ts';
import type { Obstacle } from '../../server/src/world/obstacle.ts';
import { gridFromRows } from '../../server/src/world/small-grid.ts';
import { terrainOf } from '../../server/src/world/terrain-of-grids.ts';
import type { World } from '../../server/src/world/world.ts';
import type { Zone, ZoneEdge, ZoneShape } from '../../server/src/world/zone.ts';
import { airspaceOf } from '../../server/src/world/zones-in-box.ts';
import {
  BASE,
  beside,
  type EdgeDraft,
  type FlightDraft,
  type HeightDraft,
  type ItemDraft,
  type ObstacleDraft,
  placeOf,
  rowsOf,
  type Spot,
  STEP,
  type WorldDraft,
  type ZoneDraft,
} from './random-flight.ts';
import { list, type Node, pairs, scalar, type WritingStyle, writePlan } from './write-plan.ts';

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
  'aircraft: 1\nname: dabchick-7\nkind: multirotor\nmass: 1.4 kg\nsize: 0.9 m\nmax-speed: 16 m/s\nmax-wind: 11 m/s\ncruise-speed: 10 m/s\nclimb-rate: 4 m/s\ndescent-rate: 3 m/s\nbattery: { nominal: 180 Wh, usable: 85 %, temperature: 20 C }\npower: { hover: 150 W, cruise: [160 W at 10 m/s, 200 W at 16 m/s], climb: 210 W }\nreserve: 20 %\nregistration: { number: FA3DABCHK7, expires: 2029-03-31 }\nremote-identification: { means: standard, serial: WAYW70000007 }\n',
  'craft.aircraft.yaml',
);

export const worldOf = (draft: WorldDraft): World => ({
  terrain: terrainOf([{ grid: gridOf(draft) }]),
  airspace: airspaceOf(
    draft.zones.map((one, index) => zoneOf(one, index, draft)),
    [covered(draft)],
  ),
  obstacles: draft.obstacles.map((one, index) => obstacleOf(one, index, draft)),
  people: { areas: [] },
  runways: { missing: 'the plan names no runways' },
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

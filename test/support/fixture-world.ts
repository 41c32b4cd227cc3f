import { parse } from 'yaml';
import { worldCache } from '../../server/src/host/load-world.ts';
import { type Host, type Prepared, prepare } from '../../server/src/host/prepare.ts';
import { readHeight } from '../../server/src/plan/scalars/height.ts';
import { readAmount } from '../../server/src/plan/scalars/quantity.ts';
import { readTime } from '../../server/src/plan/scalars/time.ts';
import { sayRfc3339 } from '../../server/src/units/calendar.ts';
import { type Instant, instant } from '../../server/src/units/frames.ts';
import { makeGtx } from './make-gtx.ts';
import { makeGeoTiff } from './make-raster.ts';
import { memoryFiles } from './memory-files.ts';

/**
 * The world of a fixture, written in a few lines and turned into files: a small GeoTIFF, GeoJSON files and an aircraft
 * file beside the plan, which are then read by the real loaders.
 *
 *     now: 2026-06-13 12:00 Z
 *     ground: { flat: 400 m }            or { valley: { floor, rim, middle, half-width } }, { slope: { west, east } },
 *                                        { hole: { height, west, east } } (no data between two longitudes),
 *                                        { knoll: { base, top, at: [lon, lat], radius } } (a cone on a plain), none
 *     surface: ...                       a surface model in the same words, as surface.tif; only where it is named
 *     geoid: 30 m                        mean sea level so high above the ellipsoid, as geoid.gtx; only where named
 *     middle: [-120.495, 47.5]           where the raster lies, 0.04° by 0.02°
 *     zones: [{ id, name, kind, class, floor, ceiling, circle: { at, radius } or ring: [[lon, lat], ...] }]
 *     retrieved: 2026-06-12T08:00:00Z    of the files of zones and obstacles; never after a day before now
 *     covers: [west, south, east, north] of the zones file; half a degree around the middle unless said
 *     obstacles: [{ name, at: [lon, lat], top, radius }]
 *     aircraft: |                        text of craft.aircraft.yaml
 *     performance: |                     lines of craft.aircraft.yaml for the keys that its text does not have
 *     settings: |                        text of waywarden.settings.yaml
 *     files: { name: text }              any other file beside the plan
 */
export interface FixtureWorld {
  readonly now: string;
  readonly ground: Ground;
  readonly surface?: Exclude<Ground, 'none'>;
  readonly geoid?: string;
  readonly middle?: readonly [number, number];
  readonly retrieved?: string;
  readonly zones?: readonly ZoneText[];
  readonly covers?: readonly [number, number, number, number];
  readonly obstacles?: readonly {
    name: string;
    at: readonly [number, number];
    top: string;
    radius?: string;
    structure?: boolean;
    guyWires?: boolean;
  }[];
  readonly aircraft?: string;
  readonly performance?: string;
  readonly settings?: string;
  readonly files?: Readonly<Record<string, string>>;
}

type Ground =
  | 'none'
  | { readonly flat: string }
  | { readonly valley: { floor: string; rim: string; middle: number; 'half-width': number } }
  | { readonly slope: { west: string; east: string } }
  | { readonly hole: { height: string; west: number; east: number } }
  | { readonly knoll: { base: string; top: string; at: readonly [number, number]; radius: string } };

interface ZoneText {
  readonly id: string;
  readonly circle?: { readonly at: readonly [number, number]; readonly radius: string };
  readonly ring?: readonly (readonly [number, number])[];
  readonly [property: string]: unknown;
}

export const PLAN = '/plans/flight.mission.yaml';

const metres = (text: string): number => {
  const read = readAmount(text, 'length');
  if (!read.ok) throw new Error(`the fixture's world has "${text}", which is no length`);
  return read.value;
};

const COLUMNS = 200;
const ROWS = 100;
const STEP = 0.0002;

const surfaceOf = (
  ground: Exclude<Ground, 'none'>,
  west: number,
  east: number,
): ((lon: number, lat: number) => number) => {
  if ('flat' in ground) {
    const height = metres(ground.flat);
    return () => height;
  }
  if ('valley' in ground) {
    const { floor, rim, middle, 'half-width': half } = ground.valley;
    const [low, high] = [metres(floor), metres(rim)];
    return (lon) => low + (high - low) * Math.min(1, Math.abs(lon - middle) / half);
  }
  if ('slope' in ground) {
    const [first, last] = [metres(ground.slope.west), metres(ground.slope.east)];
    return (lon) => first + ((last - first) * (lon - west)) / (east - west);
  }
  if ('knoll' in ground) {
    const [base, top, radius] = [metres(ground.knoll.base), metres(ground.knoll.top), metres(ground.knoll.radius)];
    const [lonOf, latOf] = ground.knoll.at;
    const metresEast = 111_320 * Math.cos((latOf * Math.PI) / 180);
    return (lon, lat) => {
      const away = Math.hypot((lon - lonOf) * metresEast, (lat - latOf) * 111_320);
      return base + (top - base) * Math.max(0, 1 - away / radius);
    };
  }
  const height = metres(ground.hole.height);
  return (lon) => (lon > ground.hole.west && lon < ground.hole.east ? -9999 : height);
};

const rasters = new Map<string, Uint8Array>();

const rasterOf = (ground: Exclude<Ground, 'none'>, [lon, lat]: readonly [number, number]): Uint8Array => {
  const key = JSON.stringify([ground, lon, lat]);
  const known = rasters.get(key);
  if (known !== undefined) return known;
  const west = lon - (COLUMNS / 2) * STEP;
  const north = lat + (ROWS / 2) * STEP;
  const surface = surfaceOf(ground, west, west + COLUMNS * STEP);
  const bytes = makeGeoTiff({
    columns: COLUMNS,
    rows: ROWS,
    x: west,
    y: north,
    stepX: STEP,
    stepDown: STEP,
    epsg: 4326,
    noData: '-9999',
    value: (column, row) => surface(west + column * STEP, north - row * STEP),
  });
  rasters.set(key, bytes);
  return bytes;
};

const flatGeoid = (height: number): Uint8Array =>
  makeGtx({ south: -90, west: -180, stepNorth: 10, stepEast: 10, rows: 19, columns: 36, value: () => height });

const geoJson = (features: readonly object[], members: object): string =>
  JSON.stringify({ type: 'FeatureCollection', edition: '2026-06-01', ...members, features });

const DAY_MS = 86_400_000;

/** A file is retrieved before the check; only a world that says so has one that is not. */
const retrievedOf = (world: FixtureWorld): string => {
  if (world.retrieved !== undefined) return world.retrieved;
  const usual = Date.UTC(2026, 5, 12, 8);
  return sayRfc3339(instant(Math.min(usual, nowOf(world) - DAY_MS)));
};

const KEY = /^([a-z][a-z-]*):/;

/** The standard craft bears the number of its country's register: in the Union that of its operator. */
const numberedFor = (plan: string, aircraft: string): string =>
  /^country: "?(?:FR|DE|AT|NO|IE)\b/m.test(plan) ? aircraft.replaceAll('FA3BITT2RN', 'FRA87astrdge12k8') : aircraft;

/** An aircraft's text with what it does not say of its performance, so that only few fixtures have to. */
const withPerformance = (aircraft: string, performance: string): string => {
  if (!/^aircraft: 1\b/m.test(aircraft)) return aircraft;
  const own = new Set(aircraft.split('\n').map((line) => KEY.exec(line)?.[1]));
  const more = performance.split('\n').filter((line) => line !== '' && !own.has(KEY.exec(line)?.[1]));
  return [aircraft.replace(/\n$/, ''), ...more, ''].join('\n');
};

const zoneFeature = ({ circle, ring, ...properties }: ZoneText): object => {
  if (circle !== undefined) {
    return {
      type: 'Feature',
      properties: { ...properties, radius: circle.radius },
      geometry: { type: 'Point', coordinates: circle.at },
    };
  }
  const corners = ring ?? [];
  return { type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [[...corners, corners[0]]] } };
};

/** The world of a fixture over the standard one. */
export const parseWorld = (block: string, standard: string): FixtureWorld => ({ ...parse(standard), ...parse(block) });

/** Checks that the world's own texts are sound, so that a slip in a fixture is told as such. */
const sound = (world: FixtureWorld): FixtureWorld => {
  for (const obstacle of world.obstacles ?? []) {
    if (!readHeight(obstacle.top).ok) throw new Error(`the fixture's obstacle has the top "${obstacle.top}"`);
  }
  return world;
};

/** The files of a fixture's world, with the plan among them. */
export const worldFiles = (given: FixtureWorld, plan: string): Record<string, string | Uint8Array> => {
  const world = sound(given);
  const files: Record<string, string | Uint8Array> = { [PLAN]: plan };
  if (world.ground !== 'none') files['/plans/ground.tif'] = rasterOf(world.ground, world.middle ?? [-120.495, 47.5]);
  if (world.surface !== undefined)
    files['/plans/surface.tif'] = rasterOf(world.surface, world.middle ?? [-120.495, 47.5]);
  if (world.geoid !== undefined) files['/plans/geoid.gtx'] = flatGeoid(metres(world.geoid));
  const [lon, lat] = world.middle ?? [-120.495, 47.5];
  const retrieved = retrievedOf(world);
  const covers = world.covers ?? [lon - 0.5, lat - 0.5, lon + 0.5, lat + 0.5];
  files['/plans/zones.geojson'] = geoJson((world.zones ?? []).map(zoneFeature), { retrieved, covers });
  files['/plans/obstacles.geojson'] = geoJson(
    (world.obstacles ?? []).map(({ at, ...properties }) => ({
      type: 'Feature',
      properties,
      geometry: { type: 'Point', coordinates: at },
    })),
    { retrieved },
  );
  if (world.aircraft !== undefined) {
    const aircraft = numberedFor(plan, world.aircraft);
    files['/plans/craft.aircraft.yaml'] = withPerformance(aircraft, world.performance ?? '');
  }
  if (world.settings !== undefined) files['/plans/waywarden.settings.yaml'] = world.settings;
  for (const [name, text] of Object.entries(world.files ?? {})) files[`/plans/${name}`] = text;
  return files;
};

export const nowOf = (world: FixtureWorld): Instant => {
  const read = readTime(world.now);
  if (!read.ok) throw new Error(`the fixture's world has the time "${world.now}"`);
  return read.value.at;
};

export const hostOf = (files: Record<string, string | Uint8Array>): Host => ({
  files: memoryFiles(files),
  dataFolders: [],
  restricted: false,
  cache: worldCache(),
});

/** A plan in a fixture's world, ready to be judged. */
export const prepareFixture = (plan: string, world: FixtureWorld): Promise<Prepared> =>
  prepare(plan, PLAN, hostOf(worldFiles(world, plan)), nowOf(world));

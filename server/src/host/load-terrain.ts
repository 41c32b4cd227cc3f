import type { Box } from '../geo/box.ts';
import type { TerrainReference } from '../plan/references.ts';
import { degrees } from '../units/frames.ts';
import { terrainOf } from '../world/terrain-of-grids.ts';
import { isMissing, type Missing, type Terrain } from '../world/world.ts';
import { liesIn } from './confine.ts';
import type { LoadedGeoid } from './load-geoid.ts';
import { byteSource } from './raster/byte-source.ts';
import { type GeoTiff, openGeoTiff, readGeoTiff } from './raster/geotiff.ts';
import { readHgt, tileCorner, tileMeets } from './raster/hgt.ts';
import { gridOf, joinParts, middleOf, nodesFor, type RasterPart, type ReadTerms } from './raster/raster-part.ts';
import {
  follow,
  type Loading,
  provenanceOf,
  reasonOf,
  type Source,
  sayMissing,
  statOf,
  type Told,
  toldByPlan,
} from './sources.ts';
import { Unreadable } from './unreadable.ts';

/** Parts are read for boxes on this lattice (1/256 degree, some 430 m), so that an edit seldom asks for another part. */
const PER_DEGREE = 256;
const MOST_TILES = 5000;

/** The box drawn outwards to the lattice of the cache. */
const snapped = (box: Box): Box => {
  const down = (value: number): number => Math.floor(value * PER_DEGREE) / PER_DEGREE;
  const up = (value: number): number => Math.ceil(value * PER_DEGREE) / PER_DEGREE;
  return {
    west: degrees(down(box.west)),
    south: degrees(Math.max(-90, down(box.south))),
    east: degrees(up(box.east)),
    north: degrees(Math.min(90, up(box.north))),
  };
};

const keyOf = (box: Box): string => [box.west, box.south, box.east, box.north].join(' ');

type RasterKind = 'hgt' | 'tiff';

const kindOf = (name: string): RasterKind | undefined => {
  if (/\.hgt$/i.test(name)) return 'hgt';
  return /\.tiff?$/i.test(name) ? 'tiff' : undefined;
};

const nameOf = (location: string): string =>
  location.slice(Math.max(location.lastIndexOf('/'), location.lastIndexOf('\\')) + 1);

interface LoadedPart {
  readonly key: string;
  readonly part: RasterPart;
}

/** The header of a GeoTIFF, read once per version of the file: a folder of tiles is looked through at every load. */
const openTiff = (source: Source, { cache, files }: Loading): Promise<GeoTiff> =>
  cache.get(`tiff ${source.location} ${source.stat.version}`, async () => ({
    value: await openGeoTiff(await byteSource(files, source.location, source.stat)),
    bytes: 2000,
  }));

/** What the plan says about a reference and what goes with it, and by what words that is told apart in the cache. */
interface Terms {
  readonly read: ReadTerms;
  readonly told: Told;
  readonly key: string;
}

const termsOf = (reference: TerrainReference, geoid: LoadedGeoid | Missing | undefined): Terms => {
  const error = reference.error?.value;
  const grid = geoid === undefined || isMissing(geoid) ? undefined : geoid;
  return {
    read: { ...(error === undefined ? {} : { error }), ...(grid === undefined ? {} : { geoid: grid }) },
    told: toldByPlan(reference),
    key: `${error ?? ''} ${grid?.key ?? ''}`,
  };
};

const readPart = async (
  name: string,
  source: Source,
  box: Box,
  terms: ReadTerms,
  loading: Loading,
): Promise<RasterPart | undefined> => {
  const kind = kindOf(name);
  if (kind === 'hgt') return readHgt(await byteSource(loading.files, source.location, source.stat), name, box, terms);
  if (kind === undefined) {
    throw new Unreadable(
      'is no terrain file that is read; those are SRTM tiles (.hgt), GeoTIFF (.tif, .tiff) and folders of them',
    );
  }
  const raster = await openTiff(source, loading);
  if (nodesFor(raster.lattice, raster.layout.width, raster.layout.height, box) === undefined) return undefined;
  return readGeoTiff(await byteSource(loading.files, source.location, source.stat), raster, box, terms);
};

/** The part of one raster file that the box needs, or undefined where the two do not meet. */
const loadPart = async (
  name: string,
  source: Source,
  box: Box,
  terms: Terms,
  loading: Loading,
): Promise<LoadedPart | undefined> => {
  const key = `part ${source.location} ${source.stat.version} ${keyOf(box)} ${terms.key}`;
  const part = await loading.cache.get(key, async () => {
    const value = await readPart(name, source, box, terms.read, loading);
    return { value, bytes: value === undefined ? 100 : value.heights.byteLength + 1000 };
  });
  return part === undefined ? undefined : { key, part };
};

const useSource = (name: string, part: RasterPart, { told }: Terms, loading: Loading): void => {
  const edition = told.edition ?? (part.edition === '' ? undefined : part.edition);
  loading.used(provenanceOf(name, { ...told, edition, notes: part.notes }));
};

/** The tiles of a folder that the box needs. A tile that cannot be read is a problem of its own; the others count. */
const loadFolder = async (
  reference: string,
  folder: Source,
  box: Box,
  terms: Terms,
  loading: Loading,
): Promise<readonly LoadedPart[]> => {
  const { files } = loading;
  const names = (await files.list(folder.location)).filter(
    (name) => !name.startsWith('.') && kindOf(name) !== undefined,
  );
  if (names.length > MOST_TILES)
    throw new Unreadable(`holds ${names.length} tiles; at most ${MOST_TILES} are looked through`);
  if (names.length === 0) throw new Unreadable('is a folder without terrain tiles (.hgt, .tif, .tiff)');
  const parts: LoadedPart[] = [];
  let failed = 0;
  for (const name of names) {
    if (tileCorner(name) !== undefined && kindOf(name) === 'hgt' && !tileMeets(name, box)) continue;
    try {
      const location = await files.real(files.resolve(`${folder.location}/.`, name));
      if (!liesIn(location, folder.within)) throw new Unreadable('leads by a link out of where it may lead');
      const tile = { location, within: folder.within, stat: await statOf(files, location) };
      if (tile.stat.kind === 'folder') continue;
      const loaded = await loadPart(name, tile, box, terms, loading);
      if (loaded === undefined) continue;
      parts.push(loaded);
      useSource(`${reference.replace(/\/+$/, '')}/${name}`, loaded.part, terms, loading);
    } catch (error) {
      failed++;
      loading.report(reference, `holds ${name}, which ${reasonOf(error)}`);
    }
  }
  if (parts.length === 0 && failed === 0) throw new Unreadable("holds no tile that meets the plan's area");
  return parts;
};

const loadReference = async (
  reference: string,
  box: Box | undefined,
  terms: Terms,
  loading: Loading,
): Promise<readonly LoadedPart[]> => {
  const source = await follow(reference, loading);
  if (box === undefined) return [];
  if (source.stat.kind === 'folder') return loadFolder(reference, source, box, terms, loading);
  const loaded = await loadPart(nameOf(source.location), source, box, terms, loading);
  if (loaded === undefined) throw new Unreadable("does not reach the plan's area");
  useSource(reference, loaded.part, terms, loading);
  return [loaded];
};

/** The same file twice under the same terms is one. */
const distinct = (references: readonly TerrainReference[]): readonly TerrainReference[] => {
  const seen = new Set<string>();
  return references.filter(({ value, error }) => {
    const key = `${error?.value ?? ''} ${value}`;
    return !seen.has(key) && seen.add(key);
  });
};

/** What the references hold of the box, joined. Failures are reported, the rest counts. */
const loadRasters = async (
  references: readonly TerrainReference[],
  what: 'terrain' | 'surface model',
  box: Box | undefined,
  geoid: LoadedGeoid | Missing | undefined,
  loading: Loading,
): Promise<Terrain | Missing> => {
  const window = box === undefined ? undefined : snapped(box);
  const parts: LoadedPart[] = [];
  const failures: { reference: string; reason: string }[] = [];
  for (const reference of distinct(references)) {
    try {
      parts.push(...(await loadReference(reference.value, window, termsOf(reference, geoid), loading)));
    } catch (error) {
      const reason = reasonOf(error);
      failures.push({ reference: reference.value, reason });
      loading.report(reference.value, reason);
    }
  }
  if (window === undefined && references.length > 0) {
    return { missing: 'the plan gives no position that could be read, so no ground was looked up' };
  }
  if (window === undefined || parts.length === 0) {
    const unreadable = references.length > failures.length;
    return { missing: unreadable ? `no ${what} of the plan could be read` : sayMissing(what, failures) };
  }
  return loading.cache.get(`terrain ${parts.map(({ key }) => key).join('\n')}`, async () => {
    const joined = joinParts(parts.map(({ part }) => part));
    const grids = joined.map((part) => ({ grid: gridOf(part, middleOf(window)) }));
    const own = joined.length < parts.length ? joined.reduce((sum, part) => sum + part.heights.byteLength, 0) : 0;
    return { value: terrainOf(grids), bytes: own + 1000 };
  });
};

export interface LoadedTerrain {
  readonly terrain: Terrain | Missing;
  /** Absent where the plan names no surface model. */
  readonly surface?: Terrain | Missing;
}

/** The ground and the surface models of a plan. */
export const loadTerrain = async (
  references: readonly TerrainReference[],
  box: Box | undefined,
  geoid: LoadedGeoid | Missing | undefined,
  loading: Loading,
): Promise<LoadedTerrain> => {
  const ground = references.filter(({ is }) => is?.value !== 'surface');
  const surfaces = references.filter(({ is }) => is?.value === 'surface');
  const terrain: Terrain | Missing =
    ground.length === 0 && surfaces.length > 0
      ? { missing: 'the plan names surface models only, which are no ground' }
      : await loadRasters(ground, 'terrain', box, geoid, loading);
  if (surfaces.length === 0) return { terrain };
  return { terrain, surface: await loadRasters(surfaces, 'surface model', box, geoid, loading) };
};

import { type Box, growBox } from '../geo/box.ts';
import { degrees } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { type Geoid, geoidOf } from '../world/geoid.ts';
import type { Missing } from '../world/world.ts';
import { byteSource } from './raster/byte-source.ts';
import { readGtx } from './raster/gtx.ts';
import { follow, type Loading, provenanceOf, reasonOf } from './sources.ts';
import { Unreadable } from './unreadable.ts';

/** A geoid, and what tells it apart from others in the cache. */
export interface LoadedGeoid extends Geoid {
  readonly key: string;
}

/** Metres around the plan's box: rasters are read some cells beyond it, and the lattice of the cache is wider still. */
const ROOM = 10_000;

/** The box drawn outwards to quarters of a degree, so that an edit seldom asks for another part. */
const snapped = (box: Box): Box => {
  const down = (value: number): number => Math.floor(value * 4) / 4;
  const up = (value: number): number => Math.ceil(value * 4) / 4;
  return {
    west: degrees(down(box.west)),
    south: degrees(down(box.south)),
    east: degrees(up(box.east)),
    north: degrees(up(box.north)),
  };
};

/** The part of the plan's geoid grid around the box; undefined where the plan names none. A failure is reported. */
export const loadGeoid = async (
  reference: string | undefined,
  box: Box | undefined,
  loading: Loading,
): Promise<LoadedGeoid | Missing | undefined> => {
  if (reference === undefined) return undefined;
  try {
    const source = await follow(reference, loading);
    if (source.stat.kind === 'folder') throw new Unreadable('is a folder');
    if (box === undefined)
      return { missing: 'the plan gives no position that could be read, so no geoid was looked up' };
    const around = snapped(growBox(box, ROOM));
    const sides = [around.west, around.south, around.east, around.north];
    const key = `geoid ${source.location} ${source.stat.version} ${sides.join(' ')}`;
    const loaded = await loading.cache.get(key, async () => {
      const window = await readGtx(await byteSource(loading.files, source.location, source.stat), around);
      if (window === undefined) return { value: undefined, bytes: 100 };
      const value = { geoid: { ...geoidOf(window), key }, step: window.stepNorth };
      return { value, bytes: window.undulations.byteLength + 1000 };
    });
    if (loaded === undefined) throw new Unreadable("does not reach the plan's area");
    const edition = `geoid grid of ${sayNumber(loaded.step * 60)} minutes of arc`;
    loading.used(provenanceOf(reference, { edition }));
    return loaded.geoid;
  } catch (error) {
    const reason = reasonOf(error);
    loading.report(reference, reason);
    return { missing: `geoid "${reference}" ${reason}` };
  }
};

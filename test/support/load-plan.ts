import { loadWorld, type WorldCache } from '../../server/src/host/load-world.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import type { Files } from '../../server/src/world/files.ts';
import { isMissing, type Missing, type World } from '../../server/src/world/world.ts';
import { makeGeoTiff } from './make-raster.ts';

export const DOCUMENT = '/house/plans/a.mission.yaml';

/** A plan from 10 E to `east` at 47 N, with further lines of the head. */
export const planOf = (head: string, east = 10.01): string => `mission: 1
title: shore
${head}
route:
  - take-off: home
    at: 47, 10
  - point: far
    at: 47, ${east}
    altitude: 60 m AGL
  - land: home
`;

export interface Loaded {
  readonly world: World;
  readonly problems: readonly string[];
}

export const load = async (
  head: string,
  files: Files,
  more: {
    readonly restricted?: boolean;
    readonly cache?: WorldCache;
    readonly east?: number;
    readonly plan?: string;
  } = {},
): Promise<Loaded> => {
  const plan = readPlan(more.plan ?? planOf(head, more.east), DOCUMENT);
  const world = await loadWorld(plan, {
    files,
    root: '/house',
    dataFolders: ['/data'],
    restricted: more.restricted ?? false,
    ...(more.cache === undefined ? {} : { cache: more.cache }),
  });
  return { world, problems: [...world.problems].flatMap(([name, all]) => all.map((problem) => `${name} ${problem}`)) };
};

export const there = <T>(part: T | Missing): T => {
  if (isMissing(part)) throw new Error(`missing: ${part.missing}`);
  return part;
};
export const reasonOf = <T>(part: T | Missing): string => (isMissing(part) ? part.missing : 'there');

export const tiff = (options: Partial<Parameters<typeof makeGeoTiff>[0]> = {}): Uint8Array =>
  makeGeoTiff({
    columns: 101,
    rows: 101,
    x: 9.95,
    y: 47.05,
    stepX: 0.001,
    stepDown: 0.001,
    epsg: 4326,
    value: (column, row) => 400 + column + row,
    ...options,
  });

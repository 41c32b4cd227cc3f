import type { Plan } from '../plan/model.ts';
import type { Files } from '../world/files.ts';
import { needsOf } from '../world/needs.ts';
import type { Obstacle } from '../world/obstacle.ts';
import { type ObstaclesFile, readObstacles } from '../world/obstacles-geojson.ts';
import type { Missing, Provenance, World } from '../world/world.ts';
import { loadAircraft } from './load-aircraft.ts';
import { loadAirspace } from './load-airspace.ts';
import { loadAlongside } from './load-alongside.ts';
import { loadGeoid } from './load-geoid.ts';
import { loadPeople, loadRunways } from './load-people.ts';
import { loadReports } from './load-reports.ts';
import { loadTerrain } from './load-terrain.ts';
import { readTexts } from './load-texts.ts';
import { type Loading, sayMissing } from './sources.ts';
import { type WorldCache, worldCache } from './world-cache.ts';

export { type WorldCache, worldCache } from './world-cache.ts';

export interface LoadOptions {
  readonly files: Files;
  /** The folder that references may not leave: see `findRoot`. */
  readonly root: string;
  /** Folders granted on this machine for `data:` references. */
  readonly dataFolders: readonly string[];
  readonly restricted: boolean;
  readonly cache?: WorldCache;
}

interface LoadedObstacles {
  readonly obstacles: readonly Obstacle[] | Missing;
  readonly incomplete?: Missing;
}

const loadObstacles = async (plan: Plan, loading: Loading): Promise<LoadedObstacles> => {
  if (plan.obstacles === undefined) return { obstacles: { missing: 'the plan names no obstacles' } };
  if (plan.obstacles.kind === 'statement') return { obstacles: [] };
  const { files, failures } = await readTexts<ObstaclesFile>(plan.obstacles.files, 'obstacles', readObstacles, loading);
  const obstacles = files.flatMap(({ file }) => file.obstacles);
  if (failures.length > 0) {
    const incomplete = { missing: sayMissing('obstacle file', failures) };
    return files.length === 0 ? { obstacles: incomplete, incomplete } : { obstacles, incomplete };
  }
  if (files.every(({ file }) => file.whole)) return { obstacles };
  return { obstacles, incomplete: { missing: 'some obstacles of the obstacle files could not be read' } };
};

/**
 * Loads what a plan needs from outside. Never rejects for what a reference leads to: every failure is a problem of that
 * reference and leaves the part of the world missing with the reason, and whatever else was loaded stays.
 */
export const loadWorld = async (plan: Plan, options: LoadOptions): Promise<World> => {
  const problems = new Map<string, string[]>();
  const data: Provenance[] = [];
  const loading: Loading = {
    files: options.files,
    document: plan.document,
    root: options.root,
    dataFolders: options.dataFolders,
    restricted: options.restricted,
    cache: options.cache ?? worldCache(),
    report: (reference, problem) => {
      const there = problems.get(reference);
      if (there === undefined) problems.set(reference, [problem]);
      else if (!there.includes(problem)) there.push(problem);
    },
    used: (source) => {
      if (!data.some(({ name }) => name === source.name)) data.push(source);
    },
  };
  const { box } = needsOf(plan);
  const geoid = await loadGeoid(plan.geoid?.value, box, loading);
  const { terrain, surface } = await loadTerrain(plan.terrain, box, geoid, loading);
  const airspace = await loadAirspace(plan.airspace, loading);
  const { obstacles, incomplete } = await loadObstacles(plan, loading);
  const people = await loadPeople(plan, loading);
  const runways = await loadRunways(plan, loading);
  const aircraft = await loadAircraft(plan.aircraft?.value, loading);
  const reports = await loadReports(plan, loading);
  const alongside = await loadAlongside(plan, loading);
  return {
    terrain,
    ...(surface === undefined ? {} : { surface }),
    ...(geoid === undefined ? {} : { geoid }),
    airspace,
    obstacles,
    people,
    runways,
    aircraft,
    reports,
    problems,
    data,
    ...(alongside.length === 0 ? {} : { alongside }),
    ...(incomplete === undefined ? {} : { obstaclesIncomplete: incomplete }),
  };
};

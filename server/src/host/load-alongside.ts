import type { Plan } from '../plan/model.ts';
import { readPlan } from '../plan/read.ts';
import { needsOf } from '../world/needs.ts';
import type { MissingNeighbour, Neighbour } from '../world/neighbour.ts';
import { emptyWorld, type World } from '../world/world.ts';
import { loadAircraft } from './load-aircraft.ts';
import { loadGeoid } from './load-geoid.ts';
import { loadReports } from './load-reports.ts';
import { loadTerrain } from './load-terrain.ts';
import { MEGABYTE } from './load-texts.ts';
import { follow, type Loading, readWhole, reasonOf } from './sources.ts';
import { decodeText } from './text-file.ts';

/** As large as a plan is read with aliases in it. */
const LARGEST_PLAN = 16 * MEGABYTE;

const NOT_NEEDED = 'not needed of a plan alongside';

/** What the volumes and times of another plan are worked out from. Its references are told in its own check. */
const worldOf = async (plan: Plan, loading: Loading): Promise<World> => {
  const problems = new Map<string, readonly string[]>();
  const own: Loading = {
    ...loading,
    document: plan.document,
    report: (reference, problem) => problems.set(reference, [...(problems.get(reference) ?? []), problem]),
    used: () => undefined,
  };
  const { box } = needsOf(plan);
  const geoid = await loadGeoid(plan.geoid?.value, box, own);
  const { terrain } = await loadTerrain(plan.terrain, box, geoid, own);
  return {
    ...emptyWorld(NOT_NEEDED),
    terrain,
    ...(geoid === undefined ? {} : { geoid }),
    aircraft: await loadAircraft(plan.aircraft?.value, own),
    reports: await loadReports(plan, own),
    problems,
  };
};

const loadNeighbour = async (reference: string, loading: Loading): Promise<Neighbour> => {
  const source = await follow(reference, loading);
  if (source.location === (await loading.files.real(loading.document))) throw new Error('is this plan itself');
  // What a plan alongside has alongside is a matter of its own check, so that plans may name each other.
  const plan = await loading.cache.get(`plan ${source.location} ${source.stat.version}`, async () => {
    const bytes = await readWhole(loading.files, source, LARGEST_PLAN);
    return { value: readPlan(decodeText(bytes), source.location), bytes: 40 * bytes.length + 1000 };
  });
  if (plan.flights.length === 0) throw new Error('holds no flight that could be read');
  return { reference, plan, world: await worldOf(plan, loading) };
};

/** Reads the plans that a plan names as flown on the same site. What keeps one from being read is told of its reference. */
export const loadAlongside = async (
  plan: Plan,
  loading: Loading,
): Promise<readonly (Neighbour | MissingNeighbour)[]> => {
  const found: (Neighbour | MissingNeighbour)[] = [];
  for (const reference of new Set(plan.alongside.map(({ value }) => value))) {
    try {
      found.push(await loadNeighbour(reference, loading));
    } catch (error) {
      const reason = reasonOf(error);
      loading.report(reference, reason);
      found.push({ reference, missing: `plan "${reference}" ${reason}` });
    }
  }
  return found;
};

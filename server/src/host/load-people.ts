import type { Plan } from '../plan/model.ts';
import type { FileReference } from '../plan/references.ts';
import type { PeopleLayer } from '../world/people.ts';
import { type PeopleFile, readPeopleFile } from '../world/people-geojson.ts';
import type { Runways } from '../world/runway.ts';
import { type RunwaysFile, readRunways } from '../world/runways-geojson.ts';
import type { Missing } from '../world/world.ts';
import { readTexts } from './load-texts.ts';
import { type Loading, sayMissing } from './sources.ts';

/** Each file once, as it is first named. */
const distinct = (references: readonly FileReference[]): readonly FileReference[] =>
  [...new Map([...references].reverse().map((reference) => [reference.value, reference])).values()].reverse();

/** Areas with people from files. A file that could not be read could have said something about any place. */
export const loadPeople = async (plan: Plan, loading: Loading): Promise<PeopleLayer | Missing> => {
  if (plan.people === undefined) return { missing: 'the plan says nothing about people on the ground' };
  const references = distinct(plan.people.files);
  const { files, failures } = await readTexts<PeopleFile>(references, 'people', readPeopleFile, loading);
  const areas = files.flatMap(({ file }) => file.areas);
  if (failures.length > 0) return { areas, incomplete: { missing: sayMissing('people file', failures) } };
  if (files.every(({ file }) => file.whole)) return { areas };
  return { areas, incomplete: { missing: 'some areas of the people files could not be read' } };
};

export const loadRunways = async (plan: Plan, loading: Loading): Promise<Runways | Missing> => {
  const references = distinct(plan.runways);
  if (references.length === 0) return { missing: 'the plan names no runways' };
  const { files, failures } = await readTexts<RunwaysFile>(references, 'runways', readRunways, loading);
  const runways = files.flatMap(({ file }) => file.runways);
  if (failures.length > 0) return { runways, incomplete: { missing: sayMissing('runway file', failures) } };
  if (files.every(({ file }) => file.whole)) return { runways };
  return { runways, incomplete: { missing: 'some runways of the runway files could not be read' } };
};

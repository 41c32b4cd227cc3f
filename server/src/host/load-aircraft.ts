import type { Aircraft } from '../plan/aircraft.ts';
import { readAircraft } from '../plan/read-aircraft.ts';
import type { Missing } from '../world/world.ts';
import { MEGABYTE } from './load-texts.ts';
import { follow, type Loading, provenanceOf, readWhole, reasonOf } from './sources.ts';
import { decodeText } from './text-file.ts';

const LARGEST_AIRCRAFT = MEGABYTE;

/** Reads the aircraft of a plan, once per version of its file. What keeps it from being read is told of the reference. */
export const loadAircraft = async (reference: string | undefined, loading: Loading): Promise<Aircraft | Missing> => {
  if (reference === undefined) return { missing: 'the plan names no aircraft' };
  try {
    const source = await follow(reference, loading);
    const aircraft = await loading.cache.get(`aircraft ${source.location} ${source.stat.version}`, async () => {
      const bytes = await readWhole(loading.files, source, LARGEST_AIRCRAFT);
      return { value: readAircraft(decodeText(bytes), source.location), bytes: 20 * bytes.length + 1000 };
    });
    loading.used(provenanceOf(reference, {}));
    return aircraft;
  } catch (error) {
    const reason = reasonOf(error);
    loading.report(reference, reason);
    return { missing: `aircraft "${reference}" ${reason}` };
  }
};

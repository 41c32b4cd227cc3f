import { type Box, boxAround, boxesMeet } from '../geo/box.ts';
import type { ZoneMapping } from '../plan/mapping.ts';
import { readMapping } from '../plan/read-mapping.ts';
import type { AirspaceReference, FileReference } from '../plan/references.ts';
import { Lines } from '../text/lines.ts';
import { startOf } from '../text/span.ts';
import type { Airspace, Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';
import type { ZonesFile } from '../world/zones-file.ts';
import { readZones } from '../world/zones-geojson.ts';
import { airspaceOf } from '../world/zones-in-box.ts';
import { mappingFaults, readMappedZones } from '../world/zones-mapped.ts';
import { type Failure, MEGABYTE, type ReadFile, readText } from './load-texts.ts';
import { follow, type Loading, provenanceOf, readWhole, reasonOf, sayMissing } from './sources.ts';
import { decodeText } from './text-file.ts';

interface ReadMapping {
  readonly mapping: ZoneMapping;
  /** What is wrong with it; finishes the sentence "<mapping> ...". */
  readonly faults: readonly string[];
}

const readFaults = (text: string, mapping: ZoneMapping): readonly string[] => {
  const [first] = mapping.slips;
  if (first === undefined) return mappingFaults(mapping);
  const more = mapping.slips.length - 1;
  const line = new Lines(text).at(startOf(first.span)).line + 1;
  const about = `about ${first.field ?? first.subject} in line ${line}`;
  return [`has a part that could not be read, ${about}${more > 0 ? `, and ${more} more` : ''}`];
};

const loadMapping = async (reference: string, loading: Loading): Promise<ReadMapping & { readonly key: string }> => {
  const source = await follow(reference, loading);
  const key = `mapping ${source.location} ${source.stat.version}`;
  const read = await loading.cache.get(key, async () => {
    const bytes = await readWhole(loading.files, source, MEGABYTE);
    const text = decodeText(bytes);
    const mapping = readMapping(text, source.location);
    return { value: { mapping, faults: readFaults(text, mapping) }, bytes: 20 * bytes.length + 1000 };
  });
  loading.used(provenanceOf(reference, {}));
  return { ...read, key };
};

/** A file that is read through a mapping; undefined where the mapping cannot be used, which is told on it. */
const loadMapped = async (
  file: FileReference,
  mappingReference: string,
  loading: Loading,
): Promise<ReadFile<ZonesFile> | undefined> => {
  let read: ReadMapping & { readonly key: string };
  try {
    read = await loadMapping(mappingReference, loading);
  } catch (error) {
    loading.report(mappingReference, reasonOf(error));
    return undefined;
  }
  for (const fault of read.faults) loading.report(mappingReference, fault);
  if (read.faults.length > 0) return undefined;
  const { mapping, key } = read;
  return readText(file, 'zones', (text) => readMappedZones(text, mapping), loading, key);
};

/**
 * The ground that a file without `covers` is taken to speak of: the box around its zones. Elsewhere it is silent, and
 * silence about another country must not read as "no zones there".
 */
const extentOf = (zones: readonly Zone[]): readonly Box[] => {
  const corners = zones.flatMap(({ box }) => [
    { lon: box.west, lat: box.south },
    { lon: box.east, lat: box.north },
  ]);
  const extent = boxAround(corners);
  return extent === undefined ? [] : [extent];
};

const joined = (files: readonly ReadFile<ZonesFile>[], complete: boolean): Airspace => {
  const uncovered = files.flatMap(({ file }) => file.uncovered);
  const { zonesIn, covers } = airspaceOf(
    files.flatMap(({ file }) => file.zones),
    files.flatMap(({ file }) => file.covers ?? extentOf(file.zones)),
  );
  return {
    zonesIn,
    covers: (box) =>
      complete && covers(box) && !uncovered.some((ground) => ground === 'everywhere' || boxesMeet(ground, box)),
    holds: files.flatMap(({ reference, file }) => (file.holds === undefined ? [] : [{ reference, ...file.holds }])),
  };
};

/** The airspace of a plan: all zones of the files that could be read. Failures are reported, the rest counts. */
export const loadAirspace = async (
  references: readonly AirspaceReference[],
  loading: Loading,
): Promise<Airspace | Missing> => {
  const files: ReadFile<ZonesFile>[] = [];
  const failures: Failure[] = [];
  const seen = new Set<string>();
  for (const named of references) {
    const { value: reference, mapping } = named;
    const both = `${reference}\n${mapping?.value ?? ''}`;
    if (seen.has(both)) continue;
    seen.add(both);
    try {
      const file =
        mapping === undefined
          ? await readText(named, 'zones', readZones, loading)
          : await loadMapped(named, mapping.value, loading);
      if (file !== undefined) files.push(file);
      else failures.push({ reference, reason: `cannot be read without its mapping "${mapping?.value ?? ''}"` });
    } catch (error) {
      const reason = reasonOf(error);
      failures.push({ reference, reason });
      loading.report(reference, reason);
    }
  }
  if (files.length === 0) return { missing: sayMissing('airspace', failures) };
  // A file that could not be read could have said something about any place.
  const complete = failures.length === 0;
  return loading.cache.get(`airspace ${complete} ${files.map(({ key }) => key).join('\n')}`, async () => {
    const zones = files.reduce((sum, { file }) => sum + file.zones.length, 0);
    return { value: joined(files, complete), bytes: 1000 + 200 * zones };
  });
};

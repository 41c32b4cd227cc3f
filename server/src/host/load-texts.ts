import type { FileReference } from '../plan/references.ts';
import { follow, type Loading, provenanceOf, readWhole, reasonOf, type Source, toldByPlan } from './sources.ts';
import { decodeText } from './text-file.ts';

export const MEGABYTE = 1024 * 1024;
const LARGEST_GEOJSON = 64 * MEGABYTE;

export interface ReadFile<T> {
  readonly key: string;
  readonly reference: string;
  readonly file: T;
}

export interface Failure {
  readonly reference: string;
  readonly reason: string;
}

/** What every text file about the world tells of itself. */
interface AboutItself {
  readonly problems: readonly string[];
  readonly edition?: string;
  readonly retrieved?: string;
}

/**
 * Reads a text file of one kind, once per version; what it says about its own faults is reported. `variant` tells apart
 * readings of one file that differ. Rejects as `follow` does.
 */
export const readText = async <T extends AboutItself>(
  named: FileReference,
  kind: string,
  read: (text: string) => T,
  loading: Loading,
  variant = '',
): Promise<ReadFile<T>> => {
  const { value: reference } = named;
  const source: Source = await follow(reference, loading);
  const key = `${kind} ${source.location} ${source.stat.version} ${variant}`;
  const file = await loading.cache.get(key, async () => {
    const bytes = await readWhole(loading.files, source, LARGEST_GEOJSON);
    return { value: read(decodeText(bytes)), bytes: 4 * bytes.length + 1000 };
  });
  for (const problem of file.problems) loading.report(reference, problem);
  const told = toldByPlan(named);
  loading.used(
    provenanceOf(reference, {
      edition: file.edition ?? told.edition,
      retrieved: file.retrieved ?? told.retrieved,
    }),
  );
  return { key, reference, file };
};

export interface ReadTexts<T> {
  readonly files: readonly ReadFile<T>[];
  readonly failures: readonly Failure[];
}

/** Reads text files of one kind; what could not be read at all is reported, and the others count. */
export const readTexts = async <T extends AboutItself>(
  references: readonly FileReference[],
  kind: string,
  read: (text: string) => T,
  loading: Loading,
): Promise<ReadTexts<T>> => {
  const files: ReadFile<T>[] = [];
  const failures: Failure[] = [];
  for (const reference of references) {
    try {
      files.push(await readText(reference, kind, read, loading));
    } catch (error) {
      const reason = reasonOf(error);
      failures.push({ reference: reference.value, reason });
      loading.report(reference.value, reason);
    }
  }
  return { files, failures };
};

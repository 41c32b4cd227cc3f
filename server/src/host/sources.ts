import type { FileReference } from '../plan/references.ts';
import { sayRfc3339, startOfDay } from '../units/calendar.ts';
import type { FileStat, Files } from '../world/files.ts';
import type { Provenance } from '../world/world.ts';
import { confine, type Reach } from './confine.ts';
import { Unreadable } from './unreadable.ts';
import type { WorldCache } from './world-cache.ts';

/** What the loaders of one plan share. */
export interface Loading extends Reach {
  readonly cache: WorldCache;
  /** Notes a problem with a reference; the text finishes the sentence "<reference> ...". */
  report(reference: string, problem: string): void;
  /** Notes a source that was used. */
  used(source: Provenance): void;
}

/** A file or folder that a reference leads to. */
export interface Source {
  readonly location: string;
  /** The folder that nothing behind it may leave. */
  readonly within: string;
  readonly stat: FileStat;
}

/** The reason that an error tells, fit to be shown. Errors that are ours to mend do not show their insides. */
export const reasonOf = (error: unknown): string => {
  const plain = error instanceof Error && (error.name === 'Error' || error instanceof Unreadable);
  return plain && error.message !== '' ? error.message : 'could not be read; it may be damaged';
};

export const statOf = async (files: Files, location: string): Promise<FileStat> => {
  const stat = await files.stat(location);
  if (stat === undefined) throw new Unreadable('does not exist');
  return stat;
};

/** Follows a reference. Rejects with an `Error` whose message is the reason. */
export const follow = async (reference: string, loading: Loading): Promise<Source> => {
  const confined = await confine(reference, loading);
  if (!confined.ok) throw new Unreadable(confined.reason);
  const { location, within } = confined;
  return { location, within, stat: await statOf(loading.files, location) };
};

/** The whole of a text file, at most `most` bytes. */
export const readWhole = async (files: Files, { location, stat }: Source, most: number): Promise<Uint8Array> => {
  if (stat.kind === 'folder') throw new Unreadable('is a folder');
  if (stat.size > most) {
    throw new Unreadable(`is ${Math.ceil(stat.size / 1024 / 1024)} MB; at most ${most / 1024 / 1024} MB are read`);
  }
  return files.read(location);
};

/** What is said of a source: by itself, or by the plan that names it. */
export interface Told {
  readonly edition?: string | undefined;
  /** RFC 3339. */
  readonly retrieved?: string | undefined;
  readonly notes?: readonly string[];
}

/** What the plan says of a file that it names; a date alone begins at midnight in UTC. */
export const toldByPlan = ({ edition, retrieved }: FileReference): Told => ({
  edition: edition?.value,
  retrieved:
    retrieved === undefined
      ? undefined
      : sayRfc3339('date' in retrieved.value ? startOfDay(retrieved.value.date, 0) : retrieved.value.time.at),
});

/**
 * Where a source comes from. The time of the file is not in it: a copy made this morning would make old data look new,
 * and a statement made for a plan would lapse with the next copy of the same files.
 */
export const provenanceOf = (name: string, { edition = 'not stated', retrieved, notes = [] }: Told): Provenance => ({
  name,
  edition: [edition, ...notes].join('; '),
  ...(retrieved === undefined ? {} : { retrieved }),
});

/** `names` as one reason why a part of the world is missing: the first problem, and how many more there are. */
export const sayMissing = (
  what: string,
  failures: readonly { readonly reference: string; readonly reason: string }[],
): string => {
  const [first] = failures;
  if (first === undefined) return `the plan names no ${what}`;
  const more = failures.length - 1;
  return `${what} "${first.reference}" ${first.reason}${more > 0 ? `, and ${more} more could not be used` : ''}`;
};

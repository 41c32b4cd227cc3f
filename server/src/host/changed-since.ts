import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { lstat, readdir, readFile } from 'node:fs/promises';
import { isAbsolute, relative, sep } from 'node:path';
import { openRepository, type TreeEntry } from './git.ts';
import { worldCache } from './load-world.ts';
import type { Host } from './prepare.ts';
import { type Seen, seeing } from './seen-files.ts';

/** Text files that differ in their line ends only are the same; larger files are taken as they are. */
const LARGEST_TEXT = 1_000_000;

/**
 * Which files of a working tree differ from those of the commit at which it parted from a revision. Files are hashed
 * here as git does (`blob`, length, NUL, content), instead of asking git for a difference, which would start filters that
 * a repository's configuration names. Where that cannot tell (a file kept elsewhere by a filter, a link, a path outside
 * of the repository), a file counts as changed: a plan is then looked at once too often, never once too few.
 */
export interface ChangedSince {
  /** Whether anything that was looked at has changed. */
  readonly anyOf: (seen: Seen) => Promise<boolean>;
}

type Algorithm = 'sha1' | 'sha256';

const hashOf = (bytes: Uint8Array, algorithm: Algorithm): string =>
  createHash(algorithm).update(`blob ${bytes.length}\0`).update(bytes).digest('hex');

const hashOfLarge = async (path: string, size: number, algorithm: Algorithm): Promise<string> => {
  const hash = createHash(algorithm).update(`blob ${size}\0`);
  for await (const part of createReadStream(path)) hash.update(part);
  return hash.digest('hex');
};

const sameContent = async (path: string, { kind, object: id }: TreeEntry): Promise<boolean> => {
  if (kind !== 'file') return false;
  const found = await lstat(path);
  if (!found.isFile()) return false;
  const algorithm = id.length === 64 ? 'sha256' : 'sha1';
  if (found.size > LARGEST_TEXT) return (await hashOfLarge(path, found.size, algorithm)) === id;
  const bytes = await readFile(path);
  if (hashOf(bytes, algorithm) === id) return true;
  const unix = Buffer.from(bytes.toString('latin1').replaceAll('\r\n', '\n'), 'latin1');
  return hashOf(unix, algorithm) === id;
};

const isThere = async (path: string): Promise<boolean> => {
  try {
    await lstat(path);
    return true;
  } catch {
    return false;
  }
};

/** Names directly below each folder of a tree. */
const namesBelow = (tree: ReadonlyMap<string, TreeEntry>): ReadonlyMap<string, ReadonlySet<string>> => {
  const folders = new Map<string, Set<string>>([['', new Set()]]);
  for (const path of tree.keys()) {
    const parts = path.split('/');
    parts.forEach((name, i) => {
      const folder = parts.slice(0, i).join('/');
      const names = folders.get(folder) ?? new Set<string>();
      folders.set(folder, names.add(name));
    });
  }
  return folders;
};

/** @throws GitError with what helps, where the folder is in no repository or the revision is not known. */
export const changedSince = async (ref: string, folder: string): Promise<ChangedSince> => {
  const repository = await openRepository(folder);
  const base = await repository.mergeBase(await repository.commit(ref), await repository.commit('HEAD'));
  const tree = await repository.tree(base);
  const folders = namesBelow(tree);
  const known = new Map<string, Promise<boolean>>();

  /** Path from the top as git has it; undefined outside of the repository. */
  const inTree = (location: string): string | undefined => {
    const path = relative(repository.root, location);
    if (path === '..' || path.startsWith(`..${sep}`) || isAbsolute(path)) return undefined;
    return path.split(sep).join('/');
  };
  const isGits = (path: string): boolean => path === '.git' || path.startsWith('.git/');

  const contentChanged = async (location: string): Promise<boolean> => {
    const path = inTree(location);
    if (path === undefined) return true;
    if (isGits(path)) return false;
    const entry = tree.get(path);
    if (entry === undefined) return folders.has(path) ? false : await isThere(location);
    return !(await isThere(location)) || !(await sameContent(location, entry));
  };
  const placeChanged = async (location: string): Promise<boolean> => {
    const path = inTree(location);
    // Outside of it only the way upwards to the top is looked at, which is no part of a plan.
    if (path === undefined || isGits(path)) return false;
    return (tree.has(path) || folders.has(path)) !== (await isThere(location));
  };
  const listChanged = async (location: string): Promise<boolean> => {
    const path = inTree(location);
    if (path === undefined) return true;
    const before = folders.get(path) ?? new Set<string>();
    const now = (await isThere(location)) ? await readdir(location) : [];
    return now.length !== before.size || now.some((name) => !before.has(name));
  };
  const once = (key: string, work: () => Promise<boolean>): Promise<boolean> => {
    const answer = known.get(key) ?? work();
    known.set(key, answer);
    return answer;
  };
  const some = async (
    kind: string,
    locations: ReadonlySet<string>,
    changed: (location: string) => Promise<boolean>,
  ): Promise<boolean> => {
    for (const location of locations) if (await once(`${kind} ${location}`, () => changed(location))) return true;
    return false;
  };
  return {
    anyOf: async ({ read, looked, listed }) =>
      (await some('read', read, contentChanged)) ||
      (await some('looked', looked, placeChanged)) ||
      (await some('listed', listed, listChanged)),
  };
};

/** What a revision means for the plans of a run. */
export interface Changes {
  /** A host for one plan that notes what is looked at, and whether any of that, or the plan itself, has changed. */
  watch(host: Host): { readonly host: Host; readonly changed: (document: string) => Promise<boolean> };
}

export const changesSince = async (ref: string, folder: string): Promise<Changes> => {
  const since = await changedSince(ref, folder);
  return {
    watch: (host) => {
      const { files, seen } = seeing(host.files);
      return {
        // A cache that other plans have filled would keep this plan's files from being looked at.
        host: { ...host, files, cache: worldCache() },
        changed: (document) => since.anyOf({ ...seen, read: new Set([...seen.read, document]) }),
      };
    },
  };
};

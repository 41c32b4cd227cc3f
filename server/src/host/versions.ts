import { posix, resolve } from 'node:path';
import { diskFiles } from './disk.ts';
import { openRepository } from './git.ts';
import { gitFiles } from './git-files.ts';
import { worldCache } from './load-world.ts';
import type { Host } from './prepare.ts';

/** One version of all files of a repository. */
export interface Version {
  readonly host: Host;
  /** Paths from the root, in the order of code units; undefined for the working tree, whose folders are walked. */
  readonly paths: readonly string[] | undefined;
  /** The location of a path from the root. */
  locationOf(path: string): string;
  read(path: string): Promise<Uint8Array>;
}

/** The versions of the repository that a folder lies in. Rejects with an error whose message can be shown. */
export interface Versions {
  readonly root: string;
  commit(name: string): Promise<string>;
  mergeBase(one: string, other: string): Promise<string>;
  at(commit: string): Promise<Version>;
  working(): Version;
}

export const openVersions = async (folder: string, dataFolders: readonly string[]): Promise<Versions> => {
  const repository = await openRepository(folder);
  const { root } = repository;
  // Both versions share what is the same in both: objects are named by their content.
  const cache = worldCache();
  const disk = diskFiles();
  const locationOf = (path: string): string => resolve(root, path);
  return {
    root,
    commit: repository.commit,
    mergeBase: repository.mergeBase,
    at: async (commit) => {
      const files = await gitFiles(repository, commit, disk);
      const tree = await repository.tree(commit);
      return {
        host: { files, dataFolders, restricted: false, cache },
        paths: [...tree]
          .filter(([, { kind }]) => kind === 'file')
          .map(([path]) => path)
          .sort(byCodeUnit),
        locationOf,
        read: (path) => files.read(posix.join(root, path)),
      };
    },
    working: () => ({
      host: { files: disk, dataFolders, restricted: false, cache },
      paths: undefined,
      locationOf,
      read: (path) => disk.read(locationOf(path)),
    }),
  };
};

const byCodeUnit = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

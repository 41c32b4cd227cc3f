import { posix } from 'node:path';
import type { FileStat, Files } from '../world/files.ts';
import { liesIn } from './confine.ts';
import type { Repository, TreeEntry } from './git.ts';

/** A link that leads to a link, and so on, is followed this often. */
const MOST_LINKS = 20;

/**
 * The files of a repository as they were in a commit, under the paths that they have in the working tree. What lies
 * outside the repository, such as a folder of data granted on the machine, is read from elsewhere.
 */
export const gitFiles = async (repository: Repository, commit: string, outside: Files): Promise<Files> => {
  const root = repository.root.replaceAll('\\', '/').replace(/\/+$/, '');
  const tree = await repository.tree(commit);
  const folders = new Set<string>(['']);
  for (const path of tree.keys()) {
    for (let end = path.lastIndexOf('/'); end > 0; end = path.lastIndexOf('/', end - 1))
      folders.add(path.slice(0, end));
  }
  const bytes = new Map<string, Promise<Uint8Array>>();
  const readObject = (object: string): Promise<Uint8Array> => {
    let work = bytes.get(object);
    if (work === undefined) {
      work = repository.read(object);
      bytes.set(object, work);
    }
    return work;
  };

  const isInside = (location: string): boolean => liesIn(location, root);
  const inTree = (location: string): string => posix.relative(root, location.replaceAll('\\', '/'));

  /** Follows the links in a path, part by part. */
  const followed = async (path: string): Promise<string> => {
    let done = '';
    let rest = path.split('/').filter((part) => part !== '');
    for (let links = 0; rest.length > 0; ) {
      const [part = '', ...others] = rest;
      const next = done === '' ? part : `${done}/${part}`;
      const entry = tree.get(next);
      rest = others;
      if (entry?.kind !== 'link') {
        done = next;
        continue;
      }
      links++;
      if (links > MOST_LINKS) throw new Error('is a link that leads back to itself');
      const target = new TextDecoder().decode(await readObject(entry.object));
      if (target.startsWith('/')) throw new Error('leads by a link out of the repository');
      const resolved = posix.normalize(posix.join(posix.dirname(next), target));
      if (resolved === '..' || resolved.startsWith('../')) throw new Error('leads by a link out of the repository');
      rest = [...resolved.split('/').filter((each) => each !== '.'), ...rest];
      done = '';
    }
    return done;
  };

  const entryAt = async (location: string): Promise<TreeEntry | 'folder' | undefined> => {
    const path = await followed(inTree(location));
    // The root is told by it; what is in it is nobody's business.
    if (path === '.git' || folders.has(path)) return 'folder';
    const entry = tree.get(path);
    return entry?.kind === 'file' ? entry : undefined;
  };

  const statOf = async (location: string): Promise<FileStat | undefined> => {
    if (!isInside(location)) return outside.stat(location);
    const entry = await entryAt(location);
    if (entry === undefined) return undefined;
    if (entry === 'folder') return { kind: 'folder', size: 0, version: commit };
    return { kind: 'file', size: entry.size, version: entry.object };
  };

  const fileAt = async (location: string): Promise<TreeEntry> => {
    const entry = await entryAt(location);
    if (entry === undefined) throw new Error('does not exist');
    if (entry === 'folder') throw new Error('is a folder');
    return entry;
  };

  return {
    resolve: (document, reference) => outside.resolve(document, reference),
    real: async (location) => {
      if (!isInside(location)) return outside.real(location);
      const path = await followed(inTree(location));
      const there = path === '' || path === '.git' || folders.has(path) || tree.has(path);
      if (!there) throw new Error('does not exist');
      return path === '' ? root : `${root}/${path}`;
    },
    stat: statOf,
    list: async (folder) => {
      if (!isInside(folder)) return outside.list(folder);
      const path = await followed(inTree(folder));
      if (!folders.has(path)) throw new Error('does not exist');
      const start = path === '' ? '' : `${path}/`;
      const names = new Set<string>();
      for (const each of tree.keys()) {
        if (each.startsWith(start)) names.add(each.slice(start.length).split('/')[0] ?? '');
      }
      return [...names].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
    },
    read: async (location) =>
      isInside(location) ? readObject((await fileAt(location)).object) : outside.read(location),
    readPart: async (location, offset, length) => {
      if (isInside(location))
        return (await readObject((await fileAt(location)).object)).subarray(offset, offset + length);
      const read = outside.readPart?.(location, offset, length);
      return read ?? (await outside.read(location)).subarray(offset, offset + length);
    },
  };
};

import { open, readdir, readFile, realpath, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { FileStat, Files } from '../world/files.ts';

/** Why the operating system said no, in words; the path is left out, since a refused path must not be told. */
const REASONS: ReadonlyMap<string, string> = new Map([
  ['ENOENT', 'does not exist'],
  ['ENOTDIR', 'does not exist'],
  ['EACCES', 'may not be read by this user'],
  ['EPERM', 'may not be read by this user'],
  ['EISDIR', 'is a folder'],
  ['ELOOP', 'is a link that leads back to itself'],
  ['ENAMETOOLONG', 'has a name that is too long'],
  ['EMFILE', 'could not be opened since too many files are open'],
  ['EIO', 'could not be read from the disk'],
]);

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

const told = (error: unknown): Error => new Error(REASONS.get(codeOf(error)) ?? 'could not be opened');

const telling = async <T>(work: Promise<T>): Promise<T> => {
  try {
    return await work;
  } catch (error) {
    throw told(error);
  }
};

const statOf = async (location: string): Promise<FileStat | undefined> => {
  let found: Awaited<ReturnType<typeof stat>>;
  try {
    found = await stat(location);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
    throw told(error);
  }
  const modified = found.mtime.toISOString().replace(/\.\d+Z$/, 'Z');
  const version = `${found.size}:${found.mtimeMs}:${found.ino}`;
  if (found.isDirectory()) return { kind: 'folder', size: 0, modified, version };
  // A pipe or a device would block or never end.
  if (!found.isFile()) throw new Error('is neither a file nor a folder');
  return { kind: 'file', size: found.size, modified, version };
};

const readPartOf = async (location: string, offset: number, length: number): Promise<Uint8Array> => {
  const handle = await telling(open(location, 'r'));
  try {
    const bytes = new Uint8Array(length);
    let filled = 0;
    while (filled < length) {
      const { bytesRead } = await telling(handle.read(bytes, filled, length - filled, offset + filled));
      if (bytesRead === 0) break;
      filled += bytesRead;
    }
    return bytes.subarray(0, filled);
  } finally {
    await handle.close();
  }
};

/** The files of this machine. Locations are absolute paths. A part read past the end of a file is shorter than asked. */
export const diskFiles = (): Files => ({
  resolve: (document, reference) => resolve(dirname(document), reference),
  real: (location) => telling(realpath(location)),
  stat: statOf,
  list: async (folder) => (await telling(readdir(folder))).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0)),
  read: (location) => telling(readFile(location)),
  readPart: readPartOf,
});

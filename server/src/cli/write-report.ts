import { randomBytes } from 'node:crypto';
import { lstat, open, realpath, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { reasonOf } from './find-plans.ts';

interface Target {
  readonly path: string;
  /** Permissions of the file that is there. */
  readonly mode: number | undefined;
  readonly kind: 'file' | 'device';
}

/** Where a report really goes: a link stays a link, and a pipe or device is written to, never replaced. */
const targetOf = async (file: string): Promise<Target> => {
  let found: Awaited<ReturnType<typeof lstat>>;
  try {
    found = await lstat(file);
  } catch {
    return { path: file, mode: undefined, kind: 'file' };
  }
  // A link that leads nowhere is an error here, as it would be for every other program.
  const path = found.isSymbolicLink() ? await realpath(file) : file;
  const real = found.isSymbolicLink() ? await lstat(path) : found;
  return { path, mode: real.mode & 0o777, kind: real.isFile() || real.isDirectory() ? 'file' : 'device' };
};

/** A new file beside the target, so that the exchange is one step of the file system. */
const exchange = async ({ path, mode }: Target, text: string): Promise<void> => {
  const beside = join(dirname(path), `.${basename(path).slice(0, 100)}.${randomBytes(6).toString('hex')}.tmp`);
  try {
    const handle = await open(beside, 'wx', mode ?? 0o666);
    try {
      await handle.writeFile(text);
      if (mode !== undefined) await handle.chmod(mode);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
};

/**
 * Writes a report whole or not at all: whoever reads the file sees the earlier report or this one, never half of one.
 * Returns why it could not be written; the other reports must not be lost with it.
 */
export const writeReport = async (file: string, text: string): Promise<string | undefined> => {
  try {
    const target = await targetOf(file);
    if (target.kind === 'device') await writeFile(target.path, text);
    else await exchange(target, text);
    return undefined;
  } catch (error) {
    return `the report could not be written to ${JSON.stringify(file)}: ${reasonOf(error)}`;
  }
};

import type { Dirent, Stats } from 'node:fs';
import { lstat, readdir, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';

export const isPlanName = (name: string): boolean => name.endsWith('.mission.yaml') || name.endsWith('.mission.yml');

/** Folders that never hold plans of the people who work here. */
const PASSED_OVER = new Set(['node_modules', '.git']);

/** Why a file that was named outright is not judged as a plan, although it could be opened. */
const otherKind = (path: string): string | undefined => {
  if (/\.aircraft\.ya?ml$/.test(path)) return 'it is an aircraft file; it is judged with each plan that names it';
  if (basename(path) === 'waywarden.settings.yaml')
    return 'it holds settings; they are judged with each plan below them';
  return undefined;
};

export interface Found {
  readonly plans: readonly string[];
  readonly unopened: readonly { readonly path: string; readonly reason: string }[];
}

/** Why the operating system did not open a path; finishes "not opened PATH: ...". */
export const reasonOf = (error: unknown): string => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOENT' || code === 'ENOTDIR') return 'there is no such file or folder';
  if (code === 'EACCES' || code === 'EPERM') return 'it may not be read by this user';
  if (code === 'EISDIR') return 'it is a folder';
  if (code === 'ELOOP') return 'it is a link that leads back to itself';
  if (code === 'ENAMETOOLONG') return 'its name is too long';
  if (code === 'ERR_FS_FILE_TOO_LARGE') return 'it is larger than 2 GB';
  return 'it could not be opened';
};

const isLink = async (path: string): Promise<boolean> => {
  try {
    return (await lstat(path)).isSymbolicLink();
  } catch {
    return false;
  }
};

/** What a path leads to, or the reason why nothing can be read there. A pipe or a device would never end. */
const look = async (path: string): Promise<Stats | string> => {
  try {
    const found = await stat(path);
    return found.isFile() || found.isDirectory() ? found : 'it is neither a file nor a folder';
  } catch (error) {
    const nowhere = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    return nowhere && (await isLink(path)) ? 'it is a link that leads nowhere' : reasonOf(error);
  }
};

const list = async (folder: string): Promise<readonly Dirent[]> => {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries.sort((one, other) => (one.name < other.name ? -1 : one.name > other.name ? 1 : 0));
};

/** Plans below a folder. Links to folders are not followed, so that a loop cannot hang the walk. */
const below = async (folder: string, plans: string[], unopened: { path: string; reason: string }[]): Promise<void> => {
  let entries: readonly Dirent[];
  try {
    entries = await list(folder);
  } catch (error) {
    unopened.push({ path: folder, reason: reasonOf(error) });
    return;
  }
  for (const entry of entries) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) {
      if (!PASSED_OVER.has(entry.name)) await below(path, plans, unopened);
      continue;
    }
    if (!isPlanName(entry.name)) continue;
    const found = await look(path);
    if (typeof found === 'string') unopened.push({ path, reason: found });
    else if (found.isFile()) plans.push(path);
    else unopened.push({ path, reason: 'it is a link to a folder, which is not followed' });
  }
};

/** A path named outright is a plan whatever its suffix; a folder yields the plans below it. Each plan comes once. */
export const findPlans = async (paths: readonly string[]): Promise<Found> => {
  const plans: string[] = [];
  const unopened: { path: string; reason: string }[] = [];
  for (const path of paths) {
    const found = await look(path);
    if (typeof found === 'string') unopened.push({ path, reason: found });
    else if (found.isDirectory()) await below(path, plans, unopened);
    else {
      const reason = otherKind(path);
      if (reason === undefined) plans.push(path);
      else unopened.push({ path, reason });
    }
  }
  return { plans: [...new Map(plans.map((plan) => [resolve(plan), plan])).values()], unopened };
};

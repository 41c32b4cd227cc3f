import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

export const isPlanName = (name: string): boolean => name.endsWith('.mission.yaml') || name.endsWith('.mission.yml');

/** Folders that never hold plans of the people who work here. */
const PASSED_OVER = new Set(['node_modules', '.git']);

export interface Found {
  readonly plans: readonly string[];
  readonly unopened: readonly { readonly path: string; readonly reason: string }[];
}

const reasonOf = (error: unknown): string => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOENT') return 'there is no such file or folder';
  if (code === 'EACCES' || code === 'EPERM') return 'it may not be read by this user';
  if (code === 'ELOOP') return 'it is a link that leads back to itself';
  return 'it could not be opened';
};

/** Plans below a folder. Links to folders are not followed, so that a loop cannot hang the walk. */
const below = async (folder: string, plans: string[], unopened: { path: string; reason: string }[]): Promise<void> => {
  let entries: Awaited<ReturnType<typeof list>>;
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
    } else if (isPlanName(entry.name)) plans.push(path);
  }
};

const list = async (folder: string) => {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries.sort((one, other) => (one.name < other.name ? -1 : one.name > other.name ? 1 : 0));
};

/** A path named outright is a plan whatever its suffix; a folder yields the plans below it. Each plan comes once. */
export const findPlans = async (paths: readonly string[]): Promise<Found> => {
  const plans: string[] = [];
  const unopened: { path: string; reason: string }[] = [];
  for (const path of paths) {
    try {
      const found = await stat(path);
      if (found.isDirectory()) await below(path, plans, unopened);
      else if (found.isFile()) plans.push(path);
      else unopened.push({ path, reason: 'it is neither a file nor a folder' });
    } catch (error) {
      unopened.push({ path, reason: reasonOf(error) });
    }
  }
  return { plans: [...new Set(plans)], unopened };
};

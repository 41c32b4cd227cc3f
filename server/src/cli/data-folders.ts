import { stat } from 'node:fs/promises';
import { delimiter, resolve } from 'node:path';
import { UsageError } from './arguments.ts';
import type { Machine } from './machine.ts';

/** Folders named on this call have to be there; the environment may name some that only other machines have. */
export const dataFolders = async (named: readonly string[], machine: Machine): Promise<readonly string[]> => {
  for (const folder of named) {
    const found = await stat(folder).catch(() => undefined);
    if (found?.isDirectory() !== true) throw new UsageError(`--data ${JSON.stringify(folder)} is no folder`);
  }
  const fromEnvironment = (machine.environment['WAYWARDEN_DATA'] ?? '')
    .split(delimiter)
    .filter((folder) => folder !== '');
  return [...named, ...fromEnvironment].map((folder) => resolve(folder));
};

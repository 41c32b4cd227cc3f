import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll } from 'vitest';

const made: string[] = [];

/** A new folder with the given files in it (path -> content), removed when the tests of the file are done. */
export const temporaryFolder = (files: Readonly<Record<string, string | Uint8Array>> = {}): string => {
  if (made.length === 0) {
    afterAll(() => {
      for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
    });
  }
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'waywarden-')));
  made.push(folder);
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  return folder;
};

import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import type { Machine } from '../../server/src/cli/machine.ts';
import { run } from '../../server/src/cli/run.ts';
import { changesSince } from '../../server/src/host/changed-since.ts';
import { diskFiles } from '../../server/src/host/disk.ts';
import { worldCache } from '../../server/src/host/load-world.ts';
import { type Host, prepare } from '../../server/src/host/prepare.ts';
import { decodeText } from '../../server/src/host/text-file.ts';
import { openVersions } from '../../server/src/host/versions.ts';
import { type Instant, instant } from '../../server/src/units/frames.ts';
import { inProject } from './project.ts';

/** What one call of the command line gave. */
export interface Called {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export interface Circumstances {
  readonly input?: string | Uint8Array;
  readonly environment?: Readonly<Record<string, string>>;
  readonly coloured?: boolean;
  readonly watched?: boolean;
  readonly now?: Instant;
  readonly prepare?: Machine<Host>['prepare'];
}

/** 2027-06-12T01:00:00Z, the evening before the day of most sample plans. */
export const EVENING_BEFORE = instant(Date.UTC(2027, 5, 12, 1));
export const EVENING = '2027-06-11T18:00-07:00';

const bytesOf = (input: string | Uint8Array): Uint8Array =>
  typeof input === 'string' ? new TextEncoder().encode(input) : input;

/** Calls the command line in this process, on the real disk, with all else of the machine given. */
export const call = async (words: readonly string[], given: Circumstances = {}): Promise<Called> => {
  let out = '';
  let err = '';
  const machine: Machine<Host> = {
    version: '0.0.0-test',
    environment: given.environment ?? {},
    coloured: given.coloured === true,
    now: () => given.now ?? EVENING_BEFORE,
    decode: decodeText,
    standardInput: async () => bytesOf(given.input ?? ''),
    print: async (text) => {
      out += text;
    },
    host: (dataFolders) => ({ files: diskFiles(), dataFolders, restricted: false, cache: worldCache() }),
    prepare: given.prepare ?? prepare,
    changesSince,
    watched: given.watched === true,
    versions: openVersions,
    serve: async () => 0,
  };
  const code = await run(words, machine, (text) => {
    err += text;
  });
  return { code, out, err };
};

const PROGRAM = inProject('dist/server/waywarden.mjs');

/** Whether the command line was built; `npm test` builds it first. */
export const isBuilt = existsSync(PROGRAM);

export interface ProcessTerms {
  readonly input?: string | Uint8Array;
  readonly environment?: Readonly<Record<string, string>>;
  readonly folder?: string;
}

/** Runs the built command line as a process of its own. Colours are off unless the environment given says otherwise. */
export const callProcess = (words: readonly string[], given: ProcessTerms = {}): Called => {
  const { NO_COLOR: _no, FORCE_COLOR: _force, WAYWARDEN_DATA: _data, ...inherited } = process.env;
  const done = spawnSync(process.execPath, [PROGRAM, ...words], {
    cwd: given.folder ?? inProject(''),
    input: given.input ?? '',
    env: { ...inherited, ...given.environment },
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  if (done.error !== undefined) throw done.error;
  return { code: done.status, out: done.stdout, err: done.stderr };
};

/** The same through a shell, for pipes. `waywarden` in the text stands for the program. */
export const callShell = (line: string): Called => {
  const program = `"${process.execPath}" "${PROGRAM}"`;
  const done = spawnSync('bash', ['-c', line.replaceAll('waywarden', program)], {
    cwd: inProject(''),
    encoding: 'utf8',
  });
  if (done.error !== undefined) throw done.error;
  return { code: done.status, out: done.stdout, err: done.stderr };
};

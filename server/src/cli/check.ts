import { readFile, writeFile } from 'node:fs/promises';
import { delimiter, relative, resolve } from 'node:path';
import { readTime } from '../plan/scalars/time.ts';
import { review } from '../review/review.ts';
import { Lines } from '../text/lines.ts';
import type { Instant } from '../units/frames.ts';
import { type CheckArguments, UsageError } from './arguments.ts';
import { type Checked, exitCode, type Run, type Unopened } from './checked.ts';
import { findPlans } from './find-plans.ts';
import { jsonReport } from './formats/json.ts';
import { textReport } from './formats/text.ts';
import type { Machine } from './machine.ts';
import { paintFor } from './terminal.ts';

const STDIN = '-';

const nowOf = (given: CheckArguments, machine: Machine): Instant => {
  if (given.now === undefined) return machine.now();
  const read = readTime(given.now);
  if (!read.ok)
    throw new UsageError(
      `--now takes a time with an offset, such as 2026-06-14T06:00-07:00, not ${JSON.stringify(given.now)}`,
    );
  return read.value.at;
};

const dataFolders = (given: CheckArguments, machine: Machine): readonly string[] => {
  const fromEnvironment = (machine.environment['WAYWARDEN_DATA'] ?? '')
    .split(delimiter)
    .filter((folder) => folder !== '');
  return [...given.data, ...fromEnvironment].map((folder) => resolve(folder));
};

/** The path as people know it: relative to the working folder, with "/" on every system. */
const shown = (path: string): string => (relative('.', path) || path).replaceAll('\\', '/');

/** Reads and judges plans, writes the reports, and returns the exit code. */
export const check = async (given: CheckArguments, machine: Machine): Promise<number> => {
  const now = nowOf(given, machine);
  const host = machine.host(dataFolders(given, machine));
  const checked: Checked[] = [];
  const unopened: Unopened[] = [];

  const judge = async (text: string, document: string, path: string): Promise<void> => {
    try {
      const { input, texts } = await machine.prepare(text, document, host, now);
      const lines = new Map([...texts].map(([name, content]) => [name, new Lines(content)]));
      checked.push({ path, review: review(input), lines });
    } catch (error) {
      // Our own fault with one plan must not hide the others; exit code 2 says that the check is not complete.
      const said = error instanceof Error ? error.message : String(error);
      unopened.push({ path, reason: `a fault of this program, please report it: ${said}` });
    }
  };

  const named = given.paths.filter((path) => path !== STDIN);
  if (named.length < given.paths.length) {
    const name = given.name ?? 'standard-input.mission.yaml';
    await judge(machine.decode(await machine.standardInput()), resolve(name), name);
  }
  const found = await findPlans(named);
  unopened.push(...found.unopened);
  for (const plan of found.plans) {
    let bytes: Uint8Array;
    try {
      bytes = await readFile(plan);
    } catch {
      unopened.push({ path: shown(plan), reason: 'it could not be read' });
      continue;
    }
    await judge(machine.decode(bytes), resolve(plan), shown(plan));
  }
  if (checked.length + unopened.length === 0 && !given.allowEmpty) {
    throw new UsageError(
      `no plan (*.mission.yaml) was found in ${given.paths.map(shown).join(', ')}; --allow-empty lets that pass`,
    );
  }
  const run: Run = { version: machine.version, now, gate: given.gate, allDue: given.allDue, checked, unopened };
  for (const output of given.outputs) {
    const coloured = output.file === undefined && machine.coloured ? 'coloured' : 'plain';
    const text =
      output.format === 'json' ? `${JSON.stringify(jsonReport(run), null, 2)}\n` : textReport(run, paintFor(coloured));
    if (output.file === undefined) await machine.print(text);
    else await writeFile(output.file, text);
  }
  return exitCode(run);
};

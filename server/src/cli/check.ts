import { readFile, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { readTime } from '../plan/scalars/time.ts';
import { review } from '../review/review.ts';
import { stress } from '../review/stress.ts';
import { Lines } from '../text/lines.ts';
import type { Instant } from '../units/frames.ts';
import { type CheckArguments, UsageError } from './arguments.ts';
import { type Checked, exitCode, type Run, type Unopened } from './checked.ts';
import { dataFolders } from './data-folders.ts';
import { findPlans, reasonOf } from './find-plans.ts';
import { jsonReport, jsonText } from './formats/json.ts';
import { textReport } from './formats/text.ts';
import type { Machine } from './machine.ts';
import { shownPath } from './shown-path.ts';
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

/** Writes a report, or says why it could not; the other reports must not be lost with it. */
const write = async (file: string, text: string): Promise<string | undefined> => {
  try {
    await writeFile(file, text);
    return undefined;
  } catch (error) {
    return `the report could not be written to ${JSON.stringify(file)}: ${reasonOf(error)}`;
  }
};

/** Reads and judges plans, writes the reports, and returns the exit code. */
export const check = async (given: CheckArguments, machine: Machine): Promise<number> => {
  const now = nowOf(given, machine);
  const host = machine.host(await dataFolders(given.data, machine));
  const checked: Checked[] = [];
  const unopened: Unopened[] = [];

  const judge = async (text: string, document: string, path: string): Promise<void> => {
    try {
      const { input, texts } = await machine.prepare(text, document, host, now);
      const lines = new Map([...texts].map(([name, content]) => [name, new Lines(content)]));
      const found = review(input);
      checked.push({ path, review: found, lines, ...(given.stress ? { stress: stress(input, found) } : {}) });
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
  unopened.push(...found.unopened.map(({ path, reason }) => ({ path: shownPath(path), reason })));
  for (const plan of found.plans) {
    let bytes: Uint8Array;
    try {
      bytes = await readFile(plan);
    } catch (error) {
      unopened.push({ path: shownPath(plan), reason: reasonOf(error) });
      continue;
    }
    await judge(machine.decode(bytes), resolve(plan), shownPath(plan));
  }
  if (checked.length + unopened.length === 0 && !given.allowEmpty) {
    throw new UsageError(
      `no plan (*.mission.yaml) was found in ${given.paths.map((path) => JSON.stringify(shownPath(path))).join(', ')}; --allow-empty lets that pass`,
    );
  }
  const run: Run = { version: machine.version, now, gate: given.gate, allDue: given.allDue, checked, unopened };
  const unwritten: string[] = [];
  for (const output of given.outputs) {
    const coloured = output.file === undefined && machine.coloured ? 'coloured' : 'plain';
    const text = output.format === 'json' ? jsonText(jsonReport(run)) : textReport(run, paintFor(coloured));
    if (output.file === undefined) {
      await machine.print(text);
      continue;
    }
    const failure = await write(output.file, text);
    if (failure !== undefined) unwritten.push(failure);
  }
  if (unwritten.length > 0) throw new UsageError(unwritten.join('; '));
  return exitCode(run);
};

import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { readTime } from '../plan/scalars/time.ts';
import { stress } from '../review/stress.ts';
import { Lines } from '../text/lines.ts';
import type { Instant } from '../units/frames.ts';
import { sayCount } from '../units/say.ts';
import { type CheckArguments, UsageError } from './arguments.ts';
import { baselineOf, layBaseline, readBaseline } from './baseline.ts';
import { type Checked, exitCode, type Run, type Unopened } from './checked.ts';
import { dataFolders } from './data-folders.ts';
import { findPlans, reasonOf } from './find-plans.ts';
import { judged } from './judged.ts';
import type { Changes, Machine } from './machine.ts';
import { progressOf } from './progress.ts';
import { render } from './render.ts';
import { shownPath } from './shown-path.ts';
import { paintFor, plain } from './terminal.ts';
import { writeOutputs } from './write-outputs.ts';

const STDIN = '-';

/** So many stale entries of a baseline are told by name. */
const STALE_SHOWN = 20;

const nowOf = (given: CheckArguments, machine: Machine): Instant => {
  if (given.now === undefined) return machine.now();
  const read = readTime(given.now);
  if (!read.ok)
    throw new UsageError(
      `--now takes a time with an offset, such as 2026-06-14T06:00-07:00, not ${JSON.stringify(given.now)}`,
    );
  return read.value.at;
};

/** What the machine's git says of a revision; trouble with it is told, with what helps, and ends with 2. */
const changesOf = async (given: CheckArguments, machine: Machine): Promise<Changes<unknown> | undefined> => {
  if (given.changedSince === undefined) return undefined;
  if (machine.changesSince === undefined)
    throw new UsageError('--changed-since needs git, which is not to be had here');
  try {
    return await machine.changesSince(given.changedSince, resolve('.'));
  } catch (error) {
    if (error instanceof Error && error.name === 'GitError') throw new UsageError(`--changed-since: ${error.message}`);
    throw error;
  }
};

const baselineEntries = async (file: string | undefined) => {
  if (file === undefined) return undefined;
  let text: string;
  try {
    text = await readFile(file, 'utf8');
  } catch (error) {
    throw new UsageError(`the baseline ${JSON.stringify(file)} cannot be read: ${reasonOf(error)}`);
  }
  return readBaseline(text, file);
};

/** The top of the checkout as the platform tells that runs this. */
const topOf = ({ environment }: Machine): string | undefined => {
  const told = environment['GITHUB_WORKSPACE'] ?? environment['CI_PROJECT_DIR'] ?? '';
  return told === '' ? undefined : resolve(told);
};

/** Reads and judges plans, writes the reports, and returns the exit code. */
export const check = async (
  given: CheckArguments,
  machine: Machine,
  complain: (text: string) => void = () => {},
): Promise<number> => {
  const now = nowOf(given, machine);
  const entries = await baselineEntries(given.baseline);
  const host = machine.host(await dataFolders(given.data, machine));
  const changes = await changesOf(given, machine);
  const checked: Checked[] = [];
  const unopened: Unopened[] = [];
  let unaffected = 0;

  const judge = async (text: string, document: string, path: string, since?: Changes<unknown>): Promise<void> => {
    try {
      const watched = since?.watch(host);
      const { input, texts } = await machine.prepare(text, document, watched?.host ?? host, now);
      if (watched !== undefined && !(await watched.changed(document))) {
        unaffected++;
        return;
      }
      const lines = new Map([...texts].map(([name, content]) => [name, new Lines(content)]));
      const found = judged(input);
      checked.push({ path, ...found, lines, ...(given.stress ? { stress: stress(input, found.review) } : {}) });
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
  const progress = progressOf(found.plans.length, machine.watched === true ? complain : undefined);
  for (const plan of found.plans) {
    progress.next(shownPath(plan));
    let bytes: Uint8Array;
    try {
      bytes = await readFile(plan);
    } catch (error) {
      unopened.push({ path: shownPath(plan), reason: reasonOf(error) });
      continue;
    }
    await judge(machine.decode(bytes), resolve(plan), shownPath(plan), changes);
  }
  progress.end();
  if (checked.length + unopened.length + unaffected === 0 && !given.allowEmpty) {
    throw new UsageError(
      `no plan (*.mission.yaml) was found in ${given.paths.map((path) => JSON.stringify(shownPath(path))).join(', ')}; --allow-empty lets that pass`,
    );
  }
  const top = topOf(machine);
  const run: Run = {
    version: machine.version,
    now,
    gate: given.gate,
    allDue: given.allDue,
    checked,
    unopened,
    ...(top === undefined ? {} : { top }),
    ...(changes === undefined ? {} : { unaffected }),
    ...(entries === undefined || given.baseline === undefined
      ? {}
      : { baseline: layBaseline(entries, resolve(given.baseline), { checked, now }, existsSync) }),
  };
  await report(run, given, machine, complain);
  return exitCode(run);
};

/** What is said beside the reports, and belongs to no format of them. */
const asides = (run: Run, given: CheckArguments): readonly string[] => {
  const lines: string[] = [];
  const { baseline, unaffected = 0 } = run;
  if (unaffected > 0 && given.changedSince !== undefined)
    lines.push(
      `${sayCount(unaffected, 'plan')} not looked at: nothing that ${unaffected === 1 ? 'it reads' : 'they read'} has changed since ${JSON.stringify(given.changedSince)}`,
    );
  for (const { plan, rule, subject } of baseline?.stale.slice(0, STALE_SHOWN) ?? [])
    lines.push(`the baseline has an entry that is found no more: ${plan}, ${rule}, ${subject}`);
  const more = (baseline?.stale.length ?? 0) - STALE_SHOWN;
  if (more > 0) lines.push(`and ${more} more entries of the baseline that are found no more`);
  const written = given.outputs.find(({ format }) => format === 'baseline');
  const left = written === undefined ? 0 : baselineOf(run, '.').left;
  if (left > 0)
    lines.push(
      `${sayCount(left, 'entry', 'entries')} not put into the baseline: a stop of a flight still to come is never in one`,
    );
  return lines;
};

/** Writes all reports; what could not be written is told after the others are. */
const report = async (
  run: Run,
  given: CheckArguments,
  machine: Machine,
  complain: (text: string) => void,
): Promise<void> => {
  try {
    await writeOutputs(given.outputs, machine, (output) => {
      const coloured = output.file === undefined && machine.coloured ? 'coloured' : 'plain';
      return render(run, output, paintFor(coloured));
    });
  } finally {
    for (const line of asides(run, given)) complain(`waywarden: ${plain(line)}\n`);
  }
};

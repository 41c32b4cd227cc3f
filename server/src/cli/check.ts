import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { sayCount } from '../units/say.ts';
import { type CheckArguments, UsageError } from './arguments.ts';
import { baselineOf, layBaseline, readBaseline } from './baseline.ts';
import { type Checked, exitCode, type Run, type Unopened } from './checked.ts';
import { dataFolders } from './data-folders.ts';
import { findPlans, reasonOf } from './find-plans.ts';
import { givenNow } from './given-now.ts';
import { type JudgeOutcome, type JudgeTerms, judgeFile, judgeText, linesOf } from './judge-plan.ts';
import type { Changes, Machine } from './machine.ts';
import { progressOf } from './progress.ts';
import { render } from './render.ts';
import { shownPath } from './shown-path.ts';
import { paintFor, plain } from './terminal.ts';
import { writeOutputs } from './write-outputs.ts';

const STDIN = '-';

/** Formats with a map in them. */
const DRAWN: ReadonlySet<string> = new Set(['geojson', 'markdown']);

/** So many stale entries of a baseline are told by name. */
const STALE_SHOWN = 20;

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

/** Works on so many at once; the answers keep the order of the questions, so that a report does not hang on who was first. */
const inOrder = async <A>(
  plans: readonly string[],
  atOnce: number,
  work: (plan: string) => Promise<A>,
): Promise<readonly A[]> => {
  const answers: A[] = [];
  const questions = plans.entries();
  const lane = async (): Promise<void> => {
    // The lanes share the questions: each takes the next one that nobody has.
    for (const [i, plan] of questions) answers[i] = await work(plan);
  };
  await Promise.all(Array.from({ length: atOnce }, lane));
  return answers;
};

/** Reads and judges plans, writes the reports, and returns the exit code. */
export const check = async (
  given: CheckArguments,
  machine: Machine,
  complain: (text: string) => void = () => {},
): Promise<number> => {
  const now = givenNow(given.now, machine);
  const entries = await baselineEntries(given.baseline);
  const folders = await dataFolders(given.data, machine);
  const changes = await changesOf(given, machine);
  const map = given.outputs.some(({ format }) => DRAWN.has(format));
  const terms: JudgeTerms = { now, dataFolders: folders, stress: given.stress, map };
  const host = machine.host(folders);
  const checked: Checked[] = [];
  const unopened: Unopened[] = [];
  let unaffected = 0;
  const keep = (path: string, outcome: JudgeOutcome): void => {
    if ('unopened' in outcome) unopened.push({ path, reason: outcome.unopened });
    else if ('unaffected' in outcome) unaffected++;
    else {
      const { texts, ...rest } = outcome.judged;
      checked.push({ path, ...rest, lines: linesOf(texts) });
    }
  };

  const named = given.paths.filter((path) => path !== STDIN);
  if (named.length < given.paths.length) {
    const name = given.name ?? 'standard-input.mission.yaml';
    const text = machine.decode(await machine.standardInput());
    keep(name, await judgeText(text, resolve(name), terms, machine, host));
  }
  const found = await findPlans(named);
  unopened.push(...found.unopened.map(({ path, reason }) => ({ path: shownPath(path), reason })));
  const progress = progressOf(found.plans.length, machine.watched === true ? complain : undefined);
  // What a plan looks at is noted in this thread.
  const crew = changes === undefined ? machine.crew?.(terms, found.plans.length) : undefined;
  const outcomes = await inOrder(found.plans, crew?.size ?? 1, (plan) => {
    progress.next(shownPath(plan));
    return crew === undefined ? judgeFile(plan, terms, machine, host, changes) : crew.judge(plan);
  });
  await crew?.close();
  progress.end();
  outcomes.forEach((outcome, i) => {
    keep(shownPath(found.plans[i] ?? ''), outcome);
  });
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

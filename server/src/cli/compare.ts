import { relative, resolve } from 'node:path';
import { changesBetween } from '../plan/changes.ts';
import { compareReviews } from '../review/compare.ts';
import { settingsChanges, stricterOf } from '../review/compare-settings.ts';
import { Lines } from '../text/lines.ts';
import { type Output, once, readGate, readOutputs, splitArguments, UsageError } from './arguments.ts';
import { type ComparedPlan, type Comparison, exitOf, type Side } from './compared.ts';
import { dataFolders } from './data-folders.ts';
import { findPlans, isPlanName } from './find-plans.ts';
import { compareReport } from './formats/compare-json.ts';
import { compareMarkdown } from './formats/compare-markdown.ts';
import { compareText } from './formats/compare-text.ts';
import { jsonText } from './formats/json.ts';
import { givenNow } from './given-now.ts';
import { judged } from './judged.ts';
import type { Machine, PreparedPlan, Version, Versions } from './machine.ts';
import { type PlanPair, pairPlans } from './pair-plans.ts';
import { paintFor } from './terminal.ts';
import { writeOutputs } from './write-outputs.ts';

const FLAGS = new Set(['--format', '--gate', '--now', '--data']);
const FORMATS = ['text', 'json', 'markdown'] as const;

/** `BASE...HEAD`, or `BASE` for the working tree. */
const readRange = (word: string): { readonly base: string; readonly head?: string } => {
  const three = word.indexOf('...');
  if (three < 0) {
    if (word.includes('..'))
      throw new UsageError(
        `write ${JSON.stringify(word.replace('..', '...'))}: versions are compared from where they parted`,
      );
    return { base: word };
  }
  const [base, head] = [word.slice(0, three), word.slice(three + 3)];
  if (base === '' || head === '') throw new UsageError('compare takes BASE...HEAD, or BASE for the working tree');
  return { base, head };
};

/** A version of the repository that plans are read from; git's own words are a usage error here, never a fault of ours. */
const orUsage = async <T>(work: Promise<T>): Promise<T> => {
  try {
    return await work;
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
};

const plansOf = async (version: Version, versions: Versions): Promise<readonly string[]> => {
  if (version.paths !== undefined) return version.paths.filter(isPlanName);
  const { plans } = await findPlans([versions.root]);
  return plans.map((path) => relative(versions.root, resolve(path)).replaceAll('\\', '/')).sort();
};

interface Unopened {
  readonly path: string;
  readonly reason: string;
}

const textsOf = async (
  version: Version,
  versions: Versions,
  machine: Machine,
  unopened: Unopened[],
): Promise<ReadonlyMap<string, string>> => {
  const texts = new Map<string, string>();
  for (const path of await plansOf(version, versions)) {
    try {
      texts.set(path, machine.decode(await version.read(path)));
    } catch (error) {
      unopened.push({ path, reason: error instanceof Error ? error.message : 'could not be read' });
    }
  }
  return texts;
};

interface Prepared {
  readonly path: string;
  readonly text: string;
  readonly prepared: PreparedPlan;
}

const sideOf = ({ path, text, prepared }: Prepared): Side => {
  const { review, tools } = judged(prepared.input);
  const lines = new Map([...prepared.texts].map(([name, content]) => [name, new Lines(content)]));
  return { path, text, review, lines, ...(tools === undefined ? {} : { tools }) };
};

/** The head is judged by the stricter of both sides' settings, so that no change lets itself pass. */
const comparePair = (before: Prepared | undefined, after: Prepared | undefined): ComparedPlan => {
  const old = before && sideOf(before);
  if (after === undefined)
    return { ...(old && { before: old }), changes: [], findings: compareReviews(old?.review, undefined), settings: [] };
  const { input } = after.prepared;
  const settings = before === undefined ? input.settings : stricterOf(before.prepared.input.settings, input.settings);
  const now = sideOf({ ...after, prepared: { ...after.prepared, input: { ...input, settings } } });
  if (before === undefined || old === undefined)
    return { after: now, changes: [], findings: compareReviews(undefined, now.review), settings: [] };
  const { changes, renames } = changesBetween(before.prepared.reading, after.prepared.reading);
  return {
    before: old,
    after: now,
    changes,
    findings: compareReviews(old.review, now.review, renames),
    settings: settingsChanges(before.prepared.input.settings, input.settings),
  };
};

const differs = ({ before, after, changes, findings, settings }: ComparedPlan): boolean =>
  before === undefined ||
  after === undefined ||
  before.path !== after.path ||
  changes.length > 0 ||
  settings.length > 0 ||
  findings.some(({ fate }) => fate !== 'unchanged');

/** `waywarden compare BASE[...HEAD]`: what a change does to the flights, judged on both sides as of one time. */
export const compare = async (given: readonly string[], machine: Machine): Promise<number> => {
  const split = splitArguments(given, FLAGS);
  const [range, ...more] = split.words;
  if (range === undefined || more.length > 0)
    throw new UsageError('compare takes one range: BASE...HEAD, or BASE for the working tree');
  const outputs: readonly Output[] = readOutputs(split, FORMATS);
  const gate = readGate(once(split, '--gate') ?? 'stop');
  const now = givenNow(once(split, '--now'), machine);

  const names = readRange(range);
  const folders = await dataFolders(split.values.get('--data') ?? [], machine);
  const versions = await orUsage(machine.versions('.', folders));
  const headCommit = await orUsage(versions.commit(names.head ?? 'HEAD'));
  const baseCommit = await orUsage(versions.mergeBase(await orUsage(versions.commit(names.base)), headCommit));
  const before = await orUsage(versions.at(baseCommit));
  const after = names.head === undefined ? versions.working() : await orUsage(versions.at(headCommit));

  const unopened: Unopened[] = [];
  const oldTexts = await textsOf(before, versions, machine, unopened);
  const newTexts = await textsOf(after, versions, machine, unopened);
  const prepared = async (version: Version, path: string | undefined, texts: ReadonlyMap<string, string>) => {
    const text = path === undefined ? undefined : texts.get(path);
    if (path === undefined || text === undefined) return undefined;
    return { path, text, prepared: await machine.prepare(text, version.locationOf(path), version.host, now) };
  };
  const plans: ComparedPlan[] = [];
  const pairs = pairPlans(oldTexts, newTexts);
  for (const pair of pairs) {
    try {
      const compared = comparePair(
        await prepared(before, pair.before, oldTexts),
        await prepared(after, pair.after, newTexts),
      );
      if (differs(compared)) plans.push(compared);
    } catch (error) {
      unopened.push({ path: nameOf(pair), reason: faultOf(error) });
    }
  }
  const comparison: Comparison = {
    version: machine.version,
    now,
    gate,
    base: `${names.base} (${baseCommit.slice(0, 10)})`,
    head: names.head === undefined ? 'the working tree' : `${names.head} (${headCommit.slice(0, 10)})`,
    plans,
    looked: pairs.length,
    unopened,
  };
  await writeOutputs(outputs, machine, (output) => {
    if (output.format === 'json') return jsonText(compareReport(comparison));
    if (output.format === 'markdown') return compareMarkdown(comparison);
    return compareText(comparison, paintFor(output.file === undefined && machine.coloured ? 'coloured' : 'plain'));
  });
  return exitOf(comparison);
};

const nameOf = (pair: PlanPair): string => pair.after ?? pair.before ?? '';

const faultOf = (error: unknown): string =>
  `a fault of this program, please report it: ${error instanceof Error ? error.message : String(error)}`;

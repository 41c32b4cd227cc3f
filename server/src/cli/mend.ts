import { lstat, readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { applyFixes, bulkFixes } from '../review/mend.ts';
import { review } from '../review/review.ts';
import type { Fix } from '../rulebook/finding.ts';
import { sayCount } from '../units/say.ts';
import { splitArguments, UsageError } from './arguments.ts';
import { dataFolders } from './data-folders.ts';
import { findPlans, reasonOf } from './find-plans.ts';
import type { Machine } from './machine.ts';
import { shownPath } from './shown-path.ts';
import { plain } from './terminal.ts';
import { writeReport } from './write-report.ts';

/** A mend can bring a slip to light that was hidden behind it; more rounds than this would be going in circles. */
const MOST_ROUNDS = 5;

interface Mended {
  readonly text: string;
  readonly fixes: readonly Fix[];
}

/** Makes all mends that leave the flight as it is, round by round. */
const mendText = async (text: string, document: string, machine: Machine, host: unknown): Promise<Mended> => {
  const fixes: Fix[] = [];
  let now = text;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { input } = await machine.prepare(now, document, host, machine.now());
    const { text: next, applied } = applyFixes(now, document, bulkFixes(review(input).findings));
    if (applied.length === 0 || next === now) break;
    fixes.push(...applied);
    now = next;
  }
  return { text: now, fixes };
};

/** Why a file cannot be written back as it is read; undefined where it can. */
const flawOf = async (path: string, bytes: Uint8Array, text: string): Promise<string | undefined> => {
  if ((await lstat(path)).isSymbolicLink()) return 'it is a link; mend the file that it leads to';
  const same = Buffer.compare(Buffer.from(text, 'utf8'), Buffer.from(bytes)) === 0;
  return same ? undefined : 'it is not plain UTF-8, so that writing it back would change more than the mends';
};

/**
 * `waywarden mend [PATH…] [--dry-run]`: makes the mends that leave each flight as it is, and writes nothing but the plans
 * themselves, each whole or not at all. 0 where nothing is left to mend, 2 where a plan could not be read or written.
 */
export const mend = async (
  given: readonly string[],
  machine: Machine,
  complain: (text: string) => void,
): Promise<number> => {
  const split = splitArguments(given, new Set(['--dry-run', '--data']));
  const host = machine.host(await dataFolders(split.values.get('--data') ?? [], machine));
  const found = await findPlans(split.words.length === 0 ? ['.'] : split.words);
  const failures = found.unopened.map(({ path, reason }) => `${shownPath(path)}: ${reason}`);
  if (found.plans.length + failures.length === 0) throw new UsageError('no plan (*.mission.yaml) was found');
  const dry = split.switches.has('--dry-run');
  let made = 0;
  for (const path of found.plans) {
    const shown = shownPath(path);
    try {
      const bytes = await readFile(path);
      const text = machine.decode(bytes);
      const mended = await mendText(text, resolve(path), machine, host);
      if (mended.fixes.length === 0) continue;
      const flaw = dry ? undefined : await flawOf(path, bytes, text);
      const failure = flaw ?? (dry ? undefined : await writeReport(path, mended.text));
      if (failure !== undefined) {
        failures.push(`${shown}: ${failure}`);
        continue;
      }
      made += mended.fixes.length;
      await machine.print(
        `${plain(shown)}\n${mended.fixes.map(({ title }) => `  ${dry ? 'would mend' : 'mended'}: ${plain(title)}\n`).join('')}`,
      );
    } catch (error) {
      failures.push(`${shown}: ${reasonOf(error)}`);
    }
  }
  await machine.print(
    `${sayCount(made, 'mend')} that ${made === 1 ? 'leaves' : 'leave'} the flight as it is${dry ? ' would be made' : ''}\n`,
  );
  for (const failure of failures) complain(`waywarden: not mended: ${plain(failure)}\n`);
  return failures.length > 0 ? 2 : 0;
};

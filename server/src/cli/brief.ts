import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { once, splitArguments, UsageError } from './arguments.ts';
import { readContacts } from './contacts.ts';
import { dataFolders } from './data-folders.ts';
import { reasonOf } from './find-plans.ts';
import { briefText } from './formats/brief.ts';
import { givenNow } from './given-now.ts';
import { judged } from './judged.ts';
import type { Machine } from './machine.ts';
import { shownPath } from './shown-path.ts';
import { writeReport } from './write-report.ts';

const FLAGS = new Set(['--out', '--with', '--now', '--data']);

/**
 * `waywarden brief PLAN --out FILE.html [--with contacts.yaml]`: one page for the crew. It is written whatever was found,
 * since it says so; 0 where it was, 2 where it could not be, or where this program failed in a part of it.
 */
export const brief = async (given: readonly string[], machine: Machine): Promise<number> => {
  const split = splitArguments(given, FLAGS);
  const [path, ...more] = split.words;
  if (path === undefined || more.length > 0) throw new UsageError('brief takes one plan');
  const out = once(split, '--out');
  if (out === undefined) throw new UsageError('brief needs a file to write: --out brief.html');
  if (resolve(out) === resolve(path)) throw new UsageError('--out names the plan itself');
  const contactFile = once(split, '--with');
  if (contactFile !== undefined && resolve(out) === resolve(contactFile))
    throw new UsageError('--out names the contacts themselves');
  const contacts = contactFile === undefined ? [] : await readContacts(contactFile);
  const now = givenNow(once(split, '--now'), machine);
  const host = machine.host(await dataFolders(split.values.get('--data') ?? [], machine));
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new UsageError(`${JSON.stringify(shownPath(path))} cannot be opened: ${reasonOf(error)}`);
  }
  const { input } = await machine.prepare(machine.decode(bytes), resolve(path), host, now);
  const { review, tools } = judged(input);
  if (tools === undefined) throw new Error('a review left no tools');
  const text = briefText({ path: shownPath(path), version: machine.version, review, tools, contacts });
  const failure = await writeReport(out, text);
  if (failure !== undefined) throw new UsageError(failure);
  return review.gaps.some(({ kind }) => kind === 'fault') ? 2 : 0;
};

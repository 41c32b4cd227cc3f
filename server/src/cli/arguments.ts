import { resolve } from 'node:path';
import type { Level } from '../rulebook/finding.ts';

/** The command line could not be understood, or its paths not opened: exit code 2. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

export const FORMATS = [
  'text',
  'json',
  'sarif',
  'sarif-platform',
  'junit',
  'github',
  'gitlab',
  'gnu',
  'markdown',
  'markdown-summary',
  'geojson',
  'baseline',
] as const;
export type Format = (typeof FORMATS)[number];

/** One report to write; without a file it goes to standard output. */
export interface Output {
  readonly format: Format;
  readonly file?: string;
}

export interface CheckArguments {
  readonly paths: readonly string[];
  readonly outputs: readonly Output[];
  readonly gate: Level;
  readonly now?: string;
  readonly allDue: boolean;
  readonly data: readonly string[];
  readonly allowEmpty: boolean;
  /** Judge again as if the day turned out worse. */
  readonly stress: boolean;
  /** Name under which standard input is read. */
  readonly name?: string;
  /** A file that says what was there before. */
  readonly baseline?: string;
  /** A revision: only plans are judged of which something has changed since. */
  readonly changedSince?: string;
}

/** Flags that take a value, and how often. */
const TAKES_VALUE = new Set(['--format', '--gate', '--now', '--data', '--name', '--baseline', '--changed-since']);
const CHECK_SWITCHES = ['--all-due', '--allow-empty', '--stress'] as const;
const SWITCHES: ReadonlySet<string> = new Set([...CHECK_SWITCHES, '--dry-run']);

export interface Split {
  readonly words: readonly string[];
  readonly values: ReadonlyMap<string, readonly string[]>;
  readonly switches: ReadonlySet<string>;
}

/** Parts words from flags. `--` ends the flags; `--flag=value` and `--flag value` are the same. */
export const splitArguments = (given: readonly string[], allowed: ReadonlySet<string>): Split => {
  const words: string[] = [];
  const values = new Map<string, string[]>();
  const switches = new Set<string>();
  for (let i = 0; i < given.length; i++) {
    const word = given[i] ?? '';
    if (word === '--') {
      words.push(...given.slice(i + 1));
      break;
    }
    if (!word.startsWith('-') || word === '-') {
      words.push(word);
      continue;
    }
    const equals = word.indexOf('=');
    const flag = equals < 0 ? word : word.slice(0, equals);
    if (!allowed.has(flag)) throw new UsageError(`there is no flag ${JSON.stringify(flag)} here; see waywarden --help`);
    if (SWITCHES.has(flag)) {
      if (equals >= 0) throw new UsageError(`${flag} takes no value`);
      switches.add(flag);
      continue;
    }
    const value = equals < 0 ? given[++i] : word.slice(equals + 1);
    if (value === undefined || value === '') throw new UsageError(`${flag} needs a value`);
    values.set(flag, [...(values.get(flag) ?? []), value]);
  }
  return { words, values, switches };
};

const readOutput = (text: string, formats: readonly Format[]): Output => {
  const equals = text.indexOf('=');
  const name = equals < 0 ? text : text.slice(0, equals);
  const format = formats.find((known) => known === name);
  if (format === undefined)
    throw new UsageError(`there is no format ${JSON.stringify(name)}; there are ${formats.join(', ')}`);
  if (equals < 0) return { format };
  const file = text.slice(equals + 1);
  if (file === '') throw new UsageError(`--format ${format}= names no file`);
  return { format, file };
};

/** A comma parts formats only where the name of one follows it: files may have commas in their names. */
const NEXT_FORMAT = new RegExp(`,(?=(?:${FORMATS.join('|')})(?:[=,]|$))`);

/** `--format text --format json=report.json`, or `--format text,json=report.json`. */
export const readOutputs = (split: Split, formats: readonly Format[] = FORMATS): readonly Output[] => {
  const given = split.values.get('--format') ?? ['text'];
  const outputs = given.flatMap((value) => value.split(NEXT_FORMAT)).map((one) => readOutput(one, formats));
  if (outputs.filter((output) => output.file === undefined).length > 1) {
    throw new UsageError(
      'only one format can go to standard output; give the others a file: --format json=report.json',
    );
  }
  const files = outputs.flatMap((output) => (output.file === undefined ? [] : resolve(output.file)));
  if (new Set(files).size < files.length) throw new UsageError('two formats would be written to one file');
  return outputs;
};

export const readGate = (text: string): Level => {
  if (text === 'stop' || text === 'caution' || text === 'note') return text;
  throw new UsageError(`the gate is stop, caution or note, not ${JSON.stringify(text)}`);
};

export const once = (split: Split, flag: string): string | undefined => {
  const given = split.values.get(flag) ?? [];
  if (given.length > 1) throw new UsageError(`${flag} was given more than once`);
  return given[0];
};

export const readCheckArguments = (given: readonly string[]): CheckArguments => {
  const split = splitArguments(given, new Set([...TAKES_VALUE, ...CHECK_SWITCHES]));
  const outputs = readOutputs(split);
  const now = once(split, '--now');
  const name = once(split, '--name');
  const baseline = once(split, '--baseline');
  const changedSince = once(split, '--changed-since');
  if (name !== undefined && !split.words.includes('-')) {
    throw new UsageError('--name names the plan on standard input; give - as the path, too');
  }
  return {
    paths: split.words.length === 0 ? ['.'] : split.words,
    outputs,
    gate: readGate(once(split, '--gate') ?? 'stop'),
    ...(now === undefined ? {} : { now }),
    allDue: split.switches.has('--all-due'),
    data: split.values.get('--data') ?? [],
    allowEmpty: split.switches.has('--allow-empty'),
    stress: split.switches.has('--stress'),
    ...(name === undefined ? {} : { name }),
    ...(baseline === undefined ? {} : { baseline }),
    ...(changedSince === undefined ? {} : { changedSince }),
  };
};

import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver/node';
import { instant } from '../../server/src/units/frames.ts';
import { call } from '../support/command-line.ts';
import { parseFixture } from '../support/fixture.ts';
import { PLAN, parseWorld, worldFiles } from '../support/fixture-world.ts';
import { type LanguageClient, PULLS, startServer } from '../support/language-client.ts';
import { filesBelow, inProject, readProject } from '../support/project.ts';
import { standardHead, standardWorld } from '../support/rule-examples.ts';

/** The editor and the command line agree, finding by finding: on the samples and on every case of the fixtures. */

const LEVELS: Readonly<Record<number, string>> = {
  [DiagnosticSeverity.Error]: 'stop',
  [DiagnosticSeverity.Warning]: 'caution',
  [DiagnosticSeverity.Information]: 'note',
};

/** A message of ours is plain text; the protocol allows more. */
const textOf = ({ message }: Diagnostic): string => (typeof message === 'string' ? message : message.value);

const isGap = (item: Diagnostic): boolean => textOf(item).startsWith('not assessed');

const ofEditor = (items: readonly Diagnostic[]): readonly string[] =>
  items
    .filter((item) => !isGap(item))
    .map((item) => {
      const { range, severity, code } = item;
      const { start, end } = range;
      const place = `${start.line + 1}:${start.character + 1}-${end.line + 1}:${end.character + 1}`;
      return `${place} ${LEVELS[severity ?? 0]} ${code}: ${textOf(item)}`;
    })
    .sort();

/** Reasons of what was not assessed; the editor joins gaps of one reason into one line. */
const gapsOfEditor = (items: readonly Diagnostic[]): readonly string[] =>
  items
    .filter(isGap)
    .map((item) =>
      textOf(item)
        .replace(/^not assessed(, due from .*? UTC\))?: /, '')
        .replace(/ \(\d+ rules wait for it: .*\)$/, ''),
    )
    .sort();

interface JsonFinding {
  readonly rule: string;
  readonly level: string;
  readonly message: string;
  readonly range: { start: { line: number; column: number }; end: { line: number; column: number } };
}

interface JsonPlan {
  readonly findings: readonly JsonFinding[];
  readonly gaps: readonly { reason: string }[];
}

const ofCommandLine = ({ findings }: JsonPlan): readonly string[] =>
  findings
    .map(
      ({ rule, level, message, range: { start, end } }) =>
        `${start.line}:${start.column}-${end.line}:${end.column} ${level} ${rule}: ${message}`,
    )
    .sort();

/** What the command line says, by the clock: the server reads the same one. */
const checkNow = async (path: string): Promise<JsonPlan> => {
  const { out } = await call(['check', '--format', 'json', path], { now: instant(Date.now()) });
  const { plans } = JSON.parse(out) as { plans: readonly JsonPlan[] };
  const [plan] = plans;
  if (plan === undefined) throw new Error(`${path} was not checked`);
  return plan;
};

let client: LanguageClient;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waywarden-same-'));
  client = startServer();
  await client.initialize(PULLS);
});
afterAll(async () => {
  await client.end();
  rmSync(folder, { recursive: true, force: true });
});

const agrees = async (path: string): Promise<void> => {
  const uri = pathToFileURL(path).href;
  await client.open(uri, readFileSync(path, 'utf8'));
  const items = await client.pull(uri);
  await client.close(uri);
  const plan = await checkNow(path);
  expect(ofEditor(items)).toEqual(ofCommandLine(plan));
  expect(gapsOfEditor(items)).toEqual([...new Set(plan.gaps.map(({ reason }) => reason))].sort());
};

describe('samples', () => {
  for (const path of filesBelow('samples').filter((name) => name.endsWith('.mission.yaml'))) {
    test(path, () => agrees(inProject(path)));
  }
});

describe('fixtures', () => {
  const fixtures = filesBelow('test/rules').filter((path) => path.endsWith('.md') && !path.endsWith('README.md'));
  for (const path of fixtures) {
    test(path, async () => {
      const cases = parseFixture(readProject(path), standardHead(), standardWorld());
      for (const [number, one] of cases.entries()) {
        const own = join(folder, path.replaceAll('/', '_'), String(number));
        for (const [name, content] of Object.entries(worldFiles(parseWorld(one.world, standardWorld()), one.text))) {
          const target = join(own, name);
          mkdirSync(dirname(target), { recursive: true });
          writeFileSync(target, content);
        }
        await agrees(join(own, PLAN));
      }
    });
  }
});

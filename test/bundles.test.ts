import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { filesBelow, inProject, readProject } from './support/project.ts';

/** Budgets in bytes. The package is compressed; its parts together, uncompressed, must stay within three times that. */
const WORKER = 1_600_000;
const COMMAND_LINE = 1_600_000;
/** The language server, which `waywarden serve` starts: it shares the chunks of the command line. */
const SERVER = 'dist/server/node-main.mjs';
const OWN_OF_SERVER = 450_000;

const built = existsSync(inProject('dist/server/waywarden.mjs'));
const sizeOf = (path: string): number => statSync(inProject(path)).size;

interface Metafile {
  readonly outputs: Readonly<Record<string, { readonly imports: readonly { readonly path: string }[] }>>;
}

/** Everything that a bundle can load, on first use or later. */
const reachable = (entry: string): readonly string[] => {
  const { outputs } = JSON.parse(readFileSync(inProject('dist/server.meta.json'), 'utf8')) as Metafile;
  const seen = new Set<string>();
  const visit = (path: string): void => {
    if (seen.has(path) || outputs[path] === undefined) return;
    seen.add(path);
    for (const imported of outputs[path].imports) visit(imported.path);
  };
  visit(entry);
  return [...seen];
};

describe.skipIf(!built)('bundles (skipped without a build: npm run build)', () => {
  test('the worker stays within its budget', () => {
    expect(sizeOf('dist/server/worker-main.js')).toBeLessThanOrEqual(WORKER);
  });
  test('the command line stays within its budget, with all that it can load', () => {
    const paths = reachable('dist/server/waywarden.mjs').filter((path) => path !== SERVER);
    const total = paths.reduce((sum, path) => sum + sizeOf(path), 0);
    expect(total).toBeGreaterThan(100_000);
    expect(total).toBeLessThanOrEqual(COMMAND_LINE);
  });
  test('the language server adds little to the chunks that it shares', () => {
    expect(sizeOf(SERVER)).toBeLessThanOrEqual(OWN_OF_SERVER);
  });
  test('rasters, projections and weather reports are not in what the command line loads at its start', () => {
    const { outputs } = JSON.parse(readFileSync(inProject('dist/server.meta.json'), 'utf8')) as {
      outputs: Record<string, { inputs: Record<string, unknown>; imports: { path: string; kind: string }[] }>;
    };
    const seen = new Set<string>();
    const visit = (path: string): void => {
      const output = outputs[path];
      if (output === undefined || seen.has(path)) return;
      seen.add(path);
      for (const { path: next, kind } of output.imports) if (kind === 'import-statement') visit(next);
    };
    visit('dist/server/waywarden.mjs');
    const inputs = [...seen].flatMap((path) => Object.keys(outputs[path]?.inputs ?? {}));
    expect(
      inputs.filter((input) => /node_modules\/(proj4|zstddec|geotiff|metar-taf-parser|vscode-)/.test(input)),
    ).toEqual([]);
  });
  test('nothing at run time reads what is kept out of the bundles: examples of rules, origins of words', () => {
    const readers = filesBelow('server/src')
      .filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'))
      .filter((path) => /\.example\b|\bexample\.(?:faulty|sound)|\.origin\b(?!\.l)/.test(readProject(path)));
    // The origin of a plane is another matter.
    expect(readers.filter((path) => path !== 'server/src/geo/ring.ts')).toEqual([]);
    const bundles = [
      'worker-main.js',
      ...readdirSync(inProject('dist/server')).filter((name) => name.endsWith('.mjs')),
    ];
    for (const name of bundles)
      expect([name, /\bfaulty:/.test(readProject(`dist/server/${name}`))]).toEqual([name, false]);
  });
  test('the decoder of Zstandard, packed into its bundle, still decodes', async () => {
    const { outputs } = JSON.parse(readFileSync(inProject('dist/server.meta.json'), 'utf8')) as {
      outputs: Record<string, { inputs: Record<string, unknown>; exports: readonly string[] }>;
    };
    const [path] = Object.entries(outputs).find(([, { exports }]) => exports.includes('ZSTDDecoder')) ?? [];
    const { ZSTDDecoder } = (await import(pathToFileURL(inProject(path ?? '')).href)) as typeof import('zstddec');
    const decoder = new ZSTDDecoder();
    await decoder.init();
    // RFC 8878, 3.1.1: a frame of one raw block of five bytes.
    const frame = Uint8Array.of(0x28, 0xb5, 0x2f, 0xfd, 0x20, 5, 0x29, 0, 0, ...new TextEncoder().encode('reeds'));
    expect(new TextDecoder().decode(decoder.decode(frame, 5))).toBe('reeds');
  });
  test('no bundle asks for a package at run time', () => {
    const { outputs } = JSON.parse(readFileSync(inProject('dist/server.meta.json'), 'utf8')) as {
      outputs: Record<string, { imports: { path: string; external?: boolean }[] }>;
    };
    const asked = Object.values(outputs).flatMap(({ imports }) => imports.filter(({ external }) => external === true));
    const packages = asked
      .map(({ path }) => path.replace(/^node:/, ''))
      .filter((name) => !builtinModules.includes(name));
    expect(packages).toEqual([]);
  });
});

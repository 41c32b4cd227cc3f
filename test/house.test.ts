import { describe, expect, test } from 'vitest';
import { filesBelow, readProject } from './support/project.ts';

/**
 * The order of the house, held as a table. A room may import from the rooms in its list, and from nothing else; each
 * failure says why.
 */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  text: [],
  units: [],
  geo: ['units'],
  shape: [],
  plan: ['text', 'units', 'geo', 'shape'],
  world: ['text', 'units', 'geo', 'plan'],
  facts: ['text', 'units', 'geo', 'plan', 'world', 'rulebook/rule-set'],
  rulebook: ['text', 'units', 'geo', 'plan', 'world', 'facts'],
  rules: ['text', 'units', 'geo', 'plan', 'world', 'facts', 'rulebook'],
  review: ['text', 'units', 'geo', 'plan', 'world', 'facts', 'rulebook', 'rules'],
  pictures: ['text', 'units', 'geo', 'plan', 'world', 'facts', 'rulebook', 'rules', 'review'],
  lsp: ['text', 'units', 'geo', 'plan', 'world', 'facts', 'rulebook', 'rules', 'review', 'pictures'],
  cli: ['text', 'units', 'geo', 'plan', 'world', 'facts', 'rulebook', 'rules', 'review', 'pictures'],
  host: ['text', 'units', 'geo', 'plan', 'world', 'review'],
};

/** Pure and synchronous: the same input gives the same output, everywhere. */
const CORE = ['text', 'units', 'geo', 'shape', 'plan', 'world', 'facts', 'rulebook', 'rules', 'review', 'pictures'];

/** Packages, and the rooms that may import them. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  yaml: ['plan'],
  'geographiclib-geodesic': ['geo'],
  geomagnetism: ['geo'],
  '@noble/hashes': ['text'],
  zstddec: ['host'],
  proj4: ['host'],
  'metar-taf-parser': ['host'],
  'vscode-languageserver': ['lsp'],
  'vscode-languageserver-textdocument': ['lsp'],
  'vscode-languageserver-types': ['lsp'],
  'vscode-jsonrpc': ['lsp'],
};

/** Only these start a program, and so they alone bring the machine in. */
const MAINS = new Set(['server/src/cli/main.ts', 'server/src/lsp/node-main.ts', 'server/src/lsp/worker-main.ts']);

const FORBIDDEN_IN_CORE: readonly (readonly [RegExp, string])[] = [
  [/\basync\b|\bawait\b|\bnew Promise\b|\bPromise\./, 'waits'],
  [/\bnew Date\b|\bDate\.(now|parse|UTC)\b/, 'reads the clock'],
  [/\bMath\.random\b/, 'is random'],
  [/\bprocess\./, 'looks at the process'],
  [/\blocaleCompare\b|\bIntl\b|\.toLocale\w+/, 'depends on the locale'],
  [/from 'node:/, 'needs Node'],
  [/\bconsole\./, 'prints'],
];

const sources = filesBelow('server/src').filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'));
const roomOf = (path: string): string => path.split('/')[2] ?? '';

/** Code without comments and without the insides of strings: what really runs. */
const codeOf = (text: string): string =>
  text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*\/\/.*$/gm, '')
    .replace(/(^|[^\w])\/\/ .*$/gm, '$1');

const withoutStrings = (code: string): string =>
  code.replace(/'(?:[^'\\\n]|\\.)*'/g, "''").replace(/`(?:[^`\\]|\\.)*`/g, '``');

const importsOf = (text: string): readonly string[] =>
  [
    ...codeOf(text).matchAll(
      /^(?:import|export)\b[^'`;]*?\bfrom '([^']+)'|\bimport\(\s*'([^']+)'\s*\)|^import '([^']+)'/gm,
    ),
  ].map((match) => match[1] ?? match[2] ?? match[3] ?? '');

/** Path of a relative import from the root, without its ending. */
const targetOf = (path: string, imported: string): string => {
  const parts = path.split('/').slice(0, -1);
  for (const part of imported.split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '.') parts.push(part);
  }
  return parts.join('/');
};

describe('the house', () => {
  test('has only the rooms of the table', () => {
    expect([...new Set(sources.map(roomOf))].filter((room) => ROOMS[room] === undefined)).toEqual([]);
  });

  test('imports run one way', () => {
    const faults: string[] = [];
    for (const path of sources) {
      const room = roomOf(path);
      for (const imported of importsOf(readProject(path))) {
        if (!imported.startsWith('.')) continue;
        const target = targetOf(path, imported);
        if (target.startsWith('schemas/')) continue;
        const other = roomOf(target);
        if (other === room) continue;
        const allowed = [...(ROOMS[room] ?? []), ...(MAINS.has(path) ? ['host', 'lsp'] : [])];
        const inside = target.replace(/^server\/src\//, '').replace(/\.ts$/, '');
        if (!allowed.some((room) => inside === room || inside.startsWith(`${room}/`))) {
          faults.push(`${path} imports ${inside}: ${room} may know ${allowed.join(', ') || 'nothing'}`);
        }
      }
    }
    expect(faults).toEqual([]);
  });

  test('packages are known to the rooms that need them, and to no other', () => {
    const faults: string[] = [];
    for (const path of sources) {
      for (const imported of importsOf(readProject(path))) {
        if (imported.startsWith('.')) continue;
        const name = imported.startsWith('@')
          ? imported.split('/').slice(0, 2).join('/')
          : (imported.split('/')[0] ?? '');
        if (name.startsWith('node:')) {
          if (!['host', 'cli'].includes(roomOf(path)) && !MAINS.has(path)) faults.push(`${path} imports ${imported}`);
          continue;
        }
        if (!(PACKAGES[name] ?? []).includes(roomOf(path))) faults.push(`${path} imports ${imported}`);
      }
    }
    expect(faults).toEqual([]);
  });

  test('the core is pure and synchronous', () => {
    const faults: string[] = [];
    for (const path of sources.filter((source) => CORE.includes(roomOf(source)))) {
      const code = codeOf(readProject(path));
      const bare = withoutStrings(code);
      for (const [pattern, why] of FORBIDDEN_IN_CORE) {
        const found = pattern.source.startsWith('from') ? code : bare;
        if (pattern.test(found)) faults.push(`${path} ${why}`);
      }
    }
    expect(faults).toEqual([]);
  });

  test('no file is over 300 lines', () => {
    const long = [...sources, ...filesBelow('client/src')]
      .filter((path) => !path.includes('.generated.'))
      .filter((path) => readProject(path).split('\n').length > 301);
    expect(long).toEqual([]);
  });

  test('no file has a name that says nothing', () => {
    const empty = /\/(utils?|helpers?|common|misc|shared|types|constants)(\.|\/)/;
    expect([...sources, ...filesBelow('client'), ...filesBelow('test')].filter((path) => empty.test(path))).toEqual([]);
  });

  test('the client holds no logic of its own and reaches the server by process or worker only', () => {
    const faults = filesBelow('client/src').flatMap((path) =>
      importsOf(readProject(path))
        .filter((imported) => imported.includes('server/src'))
        .map((imported) => `${path} imports ${imported}`),
    );
    expect(faults).toEqual([]);
  });
});

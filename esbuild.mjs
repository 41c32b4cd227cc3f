// Builds the bundles into dist/.
//   node esbuild.mjs                  build
//   node esbuild.mjs --when-missing   build only where a bundle is missing (npm's `prepare`)
//   node esbuild.mjs --ready          install what is missing, then build (`npm test`, `npm run demo`)
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { deflateSync } from 'node:zlib';

const root = dirname(fileURLToPath(import.meta.url));
const asked = new Set(process.argv.slice(2));

if (asked.has('--ready') && !existsSync(join(root, 'node_modules/esbuild'))) {
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const done = spawnSync(npm, ['ci', '--no-audit', '--no-fund'], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) process.exit(done.status ?? 1);
}

const entries = {
  client: 'client/src/desktop.ts',
  clientBrowser: 'client/src/browser.ts',
  server: 'server/src/lsp/node-main.ts',
  serverWorker: 'server/src/lsp/worker-main.ts',
  cli: 'server/src/cli/main.ts',
};
const bundles = [
  'dist/client/desktop.cjs',
  'dist/client/browser.cjs',
  'dist/server/node-main.mjs',
  'dist/server/worker-main.js',
  'dist/server/waywarden.mjs',
];

/** The projections of the systems that rasters may be in (server/src/host/raster/crs.ts). */
const projections = ['aea', 'laea', 'lcc', 'somerc', 'sterea', 'tmerc', 'etmerc', 'utm'];

/**
 * Of proj4 only those projections are bundled, and neither its reader of well-known text nor its military grid nor its
 * table of datums: systems are named by code here, and the budgets are tight.
 */
const absent =
  'const none = () => { throw new Error("not bundled"); }; export { none as default, none as toPoint, none as forward };';
const fewProjections = {
  name: 'few-projections',
  setup({ onResolve, onLoad }) {
    const fromProj4 = /node_modules[\\/]proj4[\\/]/;
    onResolve({ filter: /^(\.\.\/projs|\.\/constants\/Datum|wkt-parser|mgrs)$/ }, ({ path, importer }) =>
      fromProj4.test(importer) ? { path, namespace: 'few-projections' } : undefined,
    );
    // Its one-file form, which Node would get, holds everything.
    onResolve({ filter: /^proj4$/ }, () => ({ path: join(root, 'node_modules/proj4/lib/index.js') }));
    onLoad({ filter: /./, namespace: 'few-projections' }, ({ path }) => {
      const resolveDir = root;
      // Systems are defined by their seven parameters here, never by the name of a datum.
      if (path === './constants/Datum')
        return { contents: "export default { wgs84: { towgs84: '0,0,0', ellipse: 'WGS84', datumName: 'WGS84' } };" };
      if (path !== '../projs') return { contents: absent, resolveDir };
      const imports = projections.map((name) => `import ${name} from 'proj4/lib/projections/${name}.js';`);
      const added = projections.map((name) => `proj4.Proj.projections.add(${name});`);
      return { contents: `${imports.join('')}export default (proj4) => {${added.join('')}};`, resolveDir };
    });
  },
};

/**
 * What no program reads at run time stays out: the examples of the rules, which run as tests, and the origins of words in
 * the schemas, which are for the glossary. `test/bundles.test.ts` holds that nothing reads them.
 */
const readByTestsOnly = {
  name: 'read-by-tests-only',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]server[\\/]src[\\/]rules[\\/][^\\/]+\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replace(/^ {2}example: (?:\{.*\}|\{$[\s\S]*?^ {2}\}),$/m, ''),
      loader: 'ts',
    }));
    onLoad({ filter: /[\\/]schemas[\\/][^\\/]+\.schema\.json$/ }, ({ path }) => ({
      contents: JSON.stringify(JSON.parse(readFileSync(path, 'utf8')), (key, value) =>
        key === 'x-origin' && typeof value === 'string' ? undefined : value,
      ),
      loader: 'json',
    }));
  },
};

/** The decoder of Zstandard carries its program as text: packed, it is a third of that, and whatever runs it can unpack it. */
const packedDecoder = {
  name: 'packed-decoder',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]zstddec\.modern\.js$/ }, ({ path }) => {
      const code = readFileSync(path, 'utf8');
      const [program] = /[A-Za-z0-9+/=]{10000,}/.exec(code) ?? [];
      const read = 'response => response.arrayBuffer()';
      if (program === undefined || !code.includes(read)) throw new Error('the decoder of Zstandard has changed');
      const packed = deflateSync(Buffer.from(program, 'base64'), { level: 9 }).toString('base64');
      const unpack =
        "response => new Response(response.body.pipeThrough(new DecompressionStream('deflate'))).arrayBuffer()";
      return { contents: code.replace(program, packed).replace(read, unpack), loader: 'js' };
    });
  },
};

if (!asked.has('--when-missing') || bundles.some((path) => !existsSync(join(root, path)))) {
  const { build } = await import('esbuild');
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const shared = {
    absWorkingDir: root,
    bundle: true,
    minify: true,
    legalComments: 'none',
    target: 'es2022',
    logLevel: 'warning',
    metafile: true,
    // Written below, once all of it is built: a mistake in the code must not leave a half-empty dist/ behind.
    write: false,
    define: { WAYWARDEN_VERSION: JSON.stringify(version) },
    loader: { '.md': 'text' },
    plugins: [fewProjections, readByTestsOnly, packedDecoder],
  };
  const results = await Promise.all([
    build({
      ...shared,
      entryPoints: [{ in: entries.client, out: 'desktop' }],
      outdir: 'dist/client',
      outExtension: { '.js': '.cjs' },
      platform: 'node',
      format: 'cjs',
      external: ['vscode'],
    }),
    build({
      ...shared,
      entryPoints: [{ in: entries.clientBrowser, out: 'browser' }],
      outdir: 'dist/client',
      outExtension: { '.js': '.cjs' },
      platform: 'browser',
      format: 'cjs',
      external: ['vscode'],
    }),
    // Server and command line share their chunks; rasters and projections load on first use.
    build({
      ...shared,
      entryPoints: [
        { in: entries.server, out: 'node-main' },
        { in: entries.cli, out: 'waywarden' },
      ],
      outdir: 'dist/server',
      // Its form for Node is CommonJS, of which nothing can be left out.
      alias: { yaml: join(root, 'node_modules/yaml/browser/index.js') },
      outExtension: { '.js': '.mjs' },
      platform: 'node',
      format: 'esm',
      splitting: true,
      chunkNames: 'part-[hash]',
      // Bundled CommonJS asks for Node's own modules by `require`, which an ES module does not have.
      banner: {
        js: "import{createRequire as requireFrom}from'node:module';const require=requireFrom(import.meta.url);",
      },
    }),
    build({
      ...shared,
      entryPoints: [{ in: entries.serverWorker, out: 'worker-main' }],
      outdir: 'dist/server',
      platform: 'browser',
      format: 'iife',
    }),
  ]);
  rmSync(join(root, 'dist'), { recursive: true, force: true });
  const names = ['client', 'clientBrowser', 'server', 'serverWorker'];
  results.forEach((result, index) => {
    for (const file of result.outputFiles) {
      mkdirSync(dirname(file.path), { recursive: true });
      writeFileSync(file.path, file.contents);
    }
    writeFileSync(join(root, `dist/${names[index]}.meta.json`), JSON.stringify(result.metafile));
  });
  chmodSync(join(root, 'dist/server/waywarden.mjs'), 0o755);
}

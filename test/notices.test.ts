import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { filesBelow, inProject } from './support/project.ts';

/**
 * The notices name every package of which a line is in a bundle, with the full text of its licence. They are made from
 * what the bundler says it put in (`npm run build`), so that nothing is forgotten.
 */
const metafiles = existsSync(inProject('dist')) ? filesBelow('dist').filter((path) => path.endsWith('.meta.json')) : [];

interface Metafile {
  readonly inputs: Readonly<Record<string, unknown>>;
}

/** `node_modules/a/node_modules/@b/c/d.js` -> `node_modules/a/node_modules/@b/c` */
const folderOf = (input: string): string | undefined => {
  const at = input.lastIndexOf('node_modules/');
  if (at < 0) return undefined;
  const rest = input.slice(at + 'node_modules/'.length).split('/');
  const name = rest[0]?.startsWith('@') ? rest.slice(0, 2) : rest.slice(0, 1);
  return `${input.slice(0, at)}node_modules/${name.join('/')}`;
};

const bundled = (): readonly string[] => {
  const folders = new Set<string>();
  for (const path of metafiles) {
    const { inputs } = JSON.parse(readFileSync(inProject(path), 'utf8')) as Metafile;
    for (const input of Object.keys(inputs)) {
      const folder = folderOf(input);
      if (folder !== undefined) folders.add(folder);
    }
  }
  return [...folders].sort();
};

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
}

const manifestOf = (folder: string): Manifest => JSON.parse(readFileSync(inProject(`${folder}/package.json`), 'utf8'));

/**
 * The licence's text: from the package's own file, else from a section of its readme, else, since the Apache licence
 * reads the same for everyone, from another bundled package under it.
 */
const licenceText = (folder: string): string | undefined => {
  const own = ownText(folder);
  if (own !== undefined || manifestOf(folder).license !== 'Apache-2.0') return own;
  const other = bundled().find((one) => manifestOf(one).license === 'Apache-2.0' && ownText(one) !== undefined);
  return other === undefined ? undefined : ownText(other);
};

const ownText = (folder: string): string | undefined => {
  const file = readdirSync(inProject(folder)).find((name) => /^(licen[cs]e|copying|unlicense)/i.test(name));
  if (file !== undefined) return readFileSync(inProject(`${folder}/${file}`), 'utf8');
  const readme = readdirSync(inProject(folder)).find((name) => /^readme/i.test(name));
  if (readme === undefined) return undefined;
  const section = /^#+\s*licen[cs]e[\s\S]*$/im.exec(readFileSync(inProject(`${folder}/${readme}`), 'utf8'));
  return section?.[0];
};

const notices = (): string => {
  const parts = bundled().map((folder) => {
    const { name, version, license } = manifestOf(folder);
    const text = (licenceText(folder) ?? '')
      .replaceAll('\r\n', '\n')
      .replace(/[ \t]+$/gm, '')
      .trim();
    return `## ${name} ${version}\n\nLicence: ${license ?? 'see the text'}\n\n\`\`\`\`text\n${text}\n\`\`\`\`\n`;
  });
  return `# Third-party notices\n\nMade by \`npm run gen\` from what the bundles hold. Waywarden itself is under the MIT licence in LICENSE.\n\n${parts.join('\n')}`;
};

describe.skipIf(metafiles.length === 0)('third-party notices (skipped without a build: npm run build)', () => {
  test('name every package in a bundle, with the text of its licence', async () => {
    await expect(notices()).toMatchFileSnapshot(inProject('server/THIRD-PARTY-NOTICES.md'));
  });
  test('no package is without a licence text', () => {
    expect(bundled().filter((folder) => licenceText(folder) === undefined)).toEqual([]);
  });
  test('every licence is one that allows shipping', () => {
    const allowed =
      /^\(?(MIT|ISC|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|BlueOak-1\.0\.0|0BSD|CC0-1\.0|Zlib|Unlicense|\s|AND|OR|\)|\()+$/;
    const others = bundled()
      .map(manifestOf)
      .filter(({ license }) => !allowed.test(license ?? ''));
    expect(others.map(({ name, license }) => `${name}: ${license}`)).toEqual([]);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { build } from 'esbuild';

/** The route items that have a shape of their own, by telling key. */
export const ITEM_SHAPES = [
  'take-off',
  'point',
  'area',
  'survey',
  'corridor',
  'circle',
  'land',
  'hold',
  'battery',
] as const;

const ROOT = join(import.meta.dirname, '../..');

type Schema = Record<string, unknown>;

const schemaNamed = (name: string): Schema =>
  JSON.parse(readFileSync(join(ROOT, 'schemas', `${name}.schema.json`), 'utf8')) as Schema;

/** The mission schema without what stands in the route: items are read and checked one by one. */
const headOf = (mission: Schema): Schema => {
  const properties = mission['properties'] as Record<string, Schema>;
  return { ...mission, properties: { ...properties, route: { ...properties['route'], items: true } } };
};

const ANNOTATIONS = /^(?:title|description|examples|x-.*)$/;
const NAMED = /^(?:properties|\$defs|dependentRequired)$/;

/** A schema without its texts, which the validators would otherwise carry along. */
const bare = (schema: Schema): Schema =>
  Object.fromEntries(
    Object.entries(schema)
      .filter(([keyword]) => !ANNOTATIONS.test(keyword))
      .map(([keyword, value]) => [keyword, NAMED.test(keyword) ? bareNamed(value as Schema) : barePart(value)]),
  );

const bareNamed = (named: Schema): Schema =>
  Object.fromEntries(Object.entries(named).map(([name, value]) => [name, barePart(value)]));

const barePart = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(barePart);
  return typeof value === 'object' && value !== null ? bare(value as Schema) : value;
};

const camel = (name: string): string => name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

/** Puts an error of a shape into the list of those before it, which begins as null. */
const NOTE =
  'const noted = (all, instancePath, keyword, params = {}) => {const one = {instancePath, keyword, params};if (all === null) return [one];all.push(one);return all;};\n';

/** What is read of an error beside its place and keyword; without the rest the validators need not carry their schemas. */
const READ = /^\{(?:additionalProperty|missingProperty|limit):/;

/**
 * The compiler writes out, at each of many hundred places, how an error comes into the list, and where in the schema its
 * keyword stands, which nobody reads. Said once, it takes half of the room. What holds a value is not looked at either.
 */
const tersely = (code: string): string =>
  code
    .replace(/,\s*parentData:[^{}]*?,\s*rootData,\s*dynamicAnchors\}/g, '}')
    .replace(/, parentData, parentDataProperty, rootData=data, dynamicAnchors=\{\}\}=\{\}/g, '}={}')
    .replace(
      /const (err\d+) = \{instancePath:?((?:[^,"]|"[^"]*")*),schemaPath:"[^"]*",keyword:("[^"]*"),params:(.*)\};\nif\(vErrors === null\)\{\nvErrors = \[\1\];\n\}\nelse \{\nvErrors\.push\(\1\);\n\}/g,
      (_all, _name, place: string, keyword: string, params: string) =>
        `vErrors = noted(vErrors, ${place === '' ? 'instancePath' : place}, ${keyword}${READ.test(params) ? `, ${params}` : ''});`,
    );

/**
 * Validators made from the schemas, as self-contained modules: path from the project's root to text. The validator
 * compiler is a build tool; what it needs at run time is bundled in.
 */
export const generateValidators = async (): Promise<Map<string, string>> => {
  const ajv = new Ajv2020({
    allErrors: true,
    allowUnionTypes: true,
    strictRequired: false,
    inlineRefs: false,
    messages: false,
    code: { source: true, esm: true, lines: true },
  });
  ajv.addSchema(bare(headOf(schemaNamed('mission'))), 'head');
  ajv.addSchema(bare(schemaNamed('aircraft')), 'aircraft');
  ajv.addSchema(bare(schemaNamed('settings')), 'settings');
  ajv.addSchema(bare(schemaNamed('mapping')), 'mapping');
  const exported: Record<string, string> = {
    head: 'head',
    aircraft: 'aircraft',
    settings: 'settings',
    mapping: 'mapping',
  };
  for (const kind of ITEM_SHAPES) exported[camel(kind)] = `head#/$defs/${kind}`;
  const code = `${NOTE}${tersely(standaloneCode(ajv, exported))}`;
  const bundle = await build({
    stdin: { contents: code, resolveDir: ROOT, loader: 'js' },
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'neutral',
    minify: true,
    legalComments: 'none',
    charset: 'ascii',
    target: 'es2022',
  });
  const text = bundle.outputFiles[0]?.text;
  if (text === undefined) throw new Error('the bundler wrote nothing');
  const header = '// Generated from schemas/ by `npm run gen`. Do not edit.\n';
  const types = [
    header.trimEnd(),
    'export interface ShapeError {',
    '  readonly instancePath: string;',
    '  readonly keyword: string;',
    '  readonly params: Readonly<Record<string, unknown>>;',
    '}',
    'export interface Validator {',
    '  (data: unknown): boolean;',
    '  errors?: readonly ShapeError[] | null;',
    '}',
    ...Object.keys(exported).map((name) => `export const ${name}: Validator;`),
    '',
  ].join('\n');
  return new Map([
    ['server/src/shape/plan-shape.generated.js', header + text],
    ['server/src/shape/plan-shape.generated.d.ts', types],
  ]);
};

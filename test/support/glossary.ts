import { readProject } from './project.ts';

interface Schema {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly $defs?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly then?: Schema;
  readonly allOf?: readonly Schema[];
  readonly $ref?: string;
  readonly 'x-origin'?: string;
}

export interface Key {
  readonly document: string;
  /** `crew.pilot.stands`; keys of a definition that several places share begin with its name. */
  readonly path: string;
  readonly description: string;
  readonly origin: string;
}

const DOCUMENTS = ['mission', 'aircraft', 'settings', 'zones', 'mapping', 'obstacles', 'people', 'runways'] as const;

const schemaOf = (document: string): Schema => JSON.parse(readProject(`schemas/${document}.schema.json`));

/** Where a `$ref` leads inside the same schema. */
const referred = (root: Schema, schema: Schema): Schema => {
  const name = /^#\/\$defs\/(.+)$/.exec(schema.$ref ?? '')?.[1];
  return name === undefined ? schema : { ...(root.$defs?.[name] ?? {}), ...schema };
};

/** Whether the plain properties of a schema describe a path. */
const isDescribed = (root: Schema, path: string): boolean => {
  let schema: Schema | undefined = root;
  for (const name of path.split('.')) schema = schema?.properties?.[name];
  return schema?.description !== undefined;
};

const keysOf = (document: string, root: Schema, schema: Schema, above: string): readonly Key[] => {
  const keys: Key[] = [];
  for (const [name, property] of Object.entries(schema.properties ?? {})) {
    const path = above === '' ? name : `${above}.${name}`;
    const whole = referred(root, property);
    // A branch may name a key again only to require something of it; the key itself is described elsewhere.
    if (whole.description === undefined && whole['x-origin'] === undefined && isDescribed(root, path)) continue;
    keys.push({ document, path, description: whole.description ?? '', origin: whole['x-origin'] ?? '' });
    // What a reference leads to is listed once, under the name of its definition.
    if (property.$ref === undefined) keys.push(...keysOf(document, root, property, path));
  }
  for (const part of [schema.items, schema.then, ...(schema.allOf ?? [])]) {
    if (part !== undefined && part.$ref === undefined) keys.push(...keysOf(document, root, part, above));
  }
  return keys;
};

/** Every key that a person may write, with what it means and where its word comes from. */
export const glossaryKeys = (): readonly Key[] =>
  DOCUMENTS.flatMap((document) => {
    const root = schemaOf(document);
    const shared = Object.entries(root.$defs ?? {}).flatMap(([name, schema]) =>
      keysOf(document, root, schema, `(${name})`),
    );
    return [...keysOf(document, root, root, ''), ...shared];
  });

const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

export const glossaryTable = (): string =>
  [
    '| file | key | origin of the word |',
    '| --- | --- | --- |',
    ...glossaryKeys().map(({ document, path, origin }) => `| ${document} | \`${path}\` | ${cell(origin)} |`),
  ].join('\n');

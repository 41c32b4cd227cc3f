import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { describeField, ITEM_SHAPES, type Path, type Shape } from '../../server/src/plan/describe.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import { readsAs } from '../../server/src/plan/reads.ts';
import type { Slip } from '../../server/src/plan/slip.ts';
import { endOf, type Span, startOf } from '../../server/src/text/span.ts';
import { ITEM_SHAPES as VALIDATED_SHAPES } from '../support/validators.ts';

interface SchemaNode {
  readonly [keyword: string]: unknown;
  readonly $ref?: string;
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly items?: SchemaNode;
  readonly $defs?: Readonly<Record<string, SchemaNode>>;
}

const schemaNamed = (name: string): SchemaNode =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../../schemas', `${name}.schema.json`), 'utf8')) as SchemaNode;

const DOCUMENTS = ['mission', 'aircraft', 'settings'] as const;
const SCHEMAS = new Map(DOCUMENTS.map((name) => [name, schemaNamed(name)] as const));

/** Every property of a schema with the place it stands at, references followed. */
const properties = (root: SchemaNode, node: SchemaNode, path: Path): readonly (readonly [Path, SchemaNode])[] => {
  const target = node.$ref === undefined ? node : { ...follow(root, node.$ref), ...node };
  const own = Object.entries(target.properties ?? {}).flatMap(([key, value]) => {
    const whole = value.$ref === undefined ? value : { ...follow(root, value.$ref), ...value };
    return [[[...path, key], whole] as const, ...properties(root, value, [...path, key])];
  });
  const item = target.items === undefined || path[0] === 'route' ? [] : properties(root, target.items, [...path, 0]);
  return [...own, ...item];
};

const follow = (root: SchemaNode, reference: string): SchemaNode => {
  const found = root.$defs?.[reference.replace('#/$defs/', '')];
  if (found === undefined) throw new Error(`${reference} leads nowhere`);
  return found.$ref === undefined ? found : { ...follow(root, found.$ref), ...found };
};

const mission = SCHEMAS.get('mission') ?? {};
const ALL: readonly (readonly [Shape, Path, SchemaNode])[] = [
  ...DOCUMENTS.flatMap((name) => {
    const root = SCHEMAS.get(name) ?? {};
    return properties(root, root, []).map(([path, node]) => [name, path, node] as const);
  }),
  ...ITEM_SHAPES.flatMap((shape) =>
    properties(mission, mission.$defs?.[shape] ?? {}, []).map(([path, node]) => [shape, path, node] as const),
  ),
];

const name = ([shape, path]: readonly [Shape, Path, SchemaNode]): string => `${shape}: ${path.join('.')}`;

test('there are as many properties as a plan has keys', () => {
  expect(ALL.length).toBeGreaterThan(150);
});

describe('every key that can be written', () => {
  test('says in a plain sentence what it is', () => {
    for (const each of ALL) expect(each[2]['description'], name(each)).toMatch(/^[A-Z].*[.]$/);
  });

  test('has an example, and says where its word comes from', () => {
    for (const each of ALL) {
      expect((each[2]['examples'] as unknown[] | undefined)?.length ?? 0, name(each)).toBeGreaterThan(0);
      expect(each[2]['x-origin'], name(each)).toMatch(/^(?:coined$|(?:law|standard|handbook): .)/);
    }
  });

  test('says how it is read where it is a text, and in which units where it is a quantity', () => {
    for (const each of ALL) {
      const [, , node] = each;
      const isText = node.properties === undefined && node.items === undefined;
      if (isText) expect(node['x-reads'], name(each)).toBeTypeOf('string');
      const isQuantity = /^(?:height|length|speed|leg-speed|time|mass|angle|follows|amount)$/.test(
        String(node['x-reads']),
      );
      if (isQuantity) expect(node['x-unit'], name(each)).toBeTypeOf('string');
    }
  });

  test('is described for hovers', () => {
    for (const each of ALL) {
      const [shape, path, node] = each;
      expect(describeField(shape, path), name(each)).toMatchObject({
        description: node['description'],
        examples: node['examples'],
      });
    }
  });

  test('has examples that its own reader reads', () => {
    for (const each of ALL) {
      const reads = describeField(each[0], each[1])?.reads;
      for (const example of (each[2]['examples'] as unknown[] | undefined) ?? []) {
        if (typeof example === 'object') continue;
        expect(readsAs(reads, String(example))?.ok ?? true, `${name(each)} ${String(example)}`).toBe(true);
      }
    }
  });

  test('no key is described that is not there', () => {
    expect(describeField('mission', ['titel'])).toBeUndefined();
    expect(describeField('mission', ['__proto__'])).toBeUndefined();
    expect(describeField('point', ['leg', 'constructor'])).toBeUndefined();
    expect(describeField('mission', ['title', 'x'])).toBeUndefined();
  });
});

test('each kind of item has a validator', () => {
  expect([...VALIDATED_SHAPES].sort()).toEqual([...ITEM_SHAPES].sort());
});

/** An example as YAML in one line; texts with a comma or colon in quotes. */
const flow = (example: unknown): string => {
  if (Array.isArray(example)) return `[${example.map(flow).join(', ')}]`;
  if (typeof example !== 'object' || example === null) {
    const text = String(example);
    return /[,:[\]{}#]/.test(text) && typeof example === 'string' && !/^\d{4}-/.test(text) ? `"${text}"` : text;
  }
  return `{ ${Object.entries(example)
    .map(([key, value]) => `${key}: ${flow(value)}`)
    .join(', ')} }`;
};

/** A node with every key it can have, each with the example that stands at the key itself. */
const full = (root: SchemaNode, node: SchemaNode, leaveOut: ReadonlySet<string>): unknown => {
  const target = node.$ref === undefined ? node : { ...follow(root, node.$ref), ...node };
  if (target.items !== undefined && !(Array.isArray(target['type']) && target['type'].includes('string'))) {
    const item = full(root, target.items, leaveOut);
    return Array.from({ length: Number(target['minItems'] ?? 1) }, () => item);
  }
  if (target.properties === undefined || target['x-reads'] === 'stands') return (target['examples'] as unknown[])[0];
  const keys = Object.entries(target.properties).filter(([key]) => !leaveOut.has(key));
  return Object.fromEntries(keys.map(([key, value]) => [key, full(root, value, leaveOut)]));
};

/** Every place that a value of the model was read from. */
const spansOf = (value: unknown, seen = new Set<unknown>()): readonly Span[] => {
  if (typeof value !== 'object' || value === null || seen.has(value)) return [];
  seen.add(value);
  const own = 'anchor' in value && 'from' in value ? [value as Span] : [];
  return [...own, ...Object.values(value).flatMap((part) => spansOf(part, seen))];
};

describe('every key is read', () => {
  const NONE: ReadonlySet<string> = new Set();

  /** The texts of values in a full document that no value of the model stands on. */
  const unreadTexts = (text: string, model: { readonly slips: readonly Slip[] }): readonly string[] => {
    expect(
      model.slips.map((slip) => [
        slip.kind,
        slip.subject,
        slip.field,
        text.slice(startOf(slip.span), endOf(slip.span)),
      ]),
    ).toEqual([]);
    const { slips: _, ...rest } = model;
    const read = spansOf(rest).map((span) => [startOf(span), endOf(span)] as const);
    // Values in one line: what stands between ": " or a bracket and the next mark.
    const values = [...text.matchAll(/(?<=: |\[|^- )(?:"[^"]*"|(?!["[{ ])[^,[\]{}\n]+?)(?=\s*(?:[,\]}\n]|$))/gm)];
    expect(values.length).toBeGreaterThan(5);
    // The halves of a position are read as one value, whose place is the group.
    const isHalf = (index: number): boolean => /(?:lat|lon): $/.test(text.slice(0, index));
    return values
      .filter(({ index, 0: value }) => {
        const isRead = read.some(([from, to]) => from === index && to === index + value.length);
        return (
          !isRead &&
          !(isHalf(index) && read.some(([from, to]) => from <= index && index < to && text.startsWith('{ lat', from)))
        );
      })
      .map(([value]) => value);
  };

  test('of a plan, with obstacles and restrictions as statements and as lists', () => {
    const halves = [
      ['files', 'listed', 'requests', 'retrieved', 'notices', 'polygon'],
      ['none-above', 'none-found', 'circle', 'around'],
    ];
    for (const half of halves) {
      const keys = full(mission, mission, new Set([...half, 'route', 'accepts'])) as Record<string, unknown>;
      const obstacles = keys['obstacles'] as Record<string, unknown>;
      const list = half.includes('none-above');
      const restrictions = keys['restrictions'] as Record<string, unknown>;
      for (const key of list ? ['seen', 'by', 'of'] : []) {
        delete obstacles[key];
        delete restrictions[key];
      }
      const accepts = full(mission, mission.$defs?.['accepts'] ?? {}, NONE);
      const lines = Object.entries({ ...keys, accepts }).map(([key, value]) => `${key}: ${flow(value)}\n`);
      const text = `${lines.join('')}route:\n- { hold: 1 s }\n`;
      expect(unreadTexts(text, readPlan(text, 'plan')), text).toEqual(['1']);
    }
  });

  for (const shape of ITEM_SHAPES) {
    test(`of the item ${shape}`, () => {
      for (const outline of shape === 'area' || shape === 'survey' ? [['polygon'], ['circle', 'around']] : [[]]) {
        const item = full(mission, mission.$defs?.[shape] ?? {}, new Set(outline));
        const text = `mission: 1\ntitle: title\npurpose: purpose\nroute:\n- ${flow(item)}\n`;
        const plan = readPlan(text, 'plan');
        expect(plan.items.map(({ kind }) => kind)).toEqual([shape]);
        expect(unreadTexts(text, plan), text).toEqual(['1']);
      }
    });
  }

  test('of an aircraft file', () => {
    const root = SCHEMAS.get('aircraft') ?? {};
    const text = Object.entries(full(root, root, NONE) as object)
      .map(([key, value]) => `${key}: ${flow(value)}\n`)
      .join('');
    expect(unreadTexts(text, readAircraft(text, 'aircraft'))).toEqual(['1']);
  });

  test('of a settings file', () => {
    const root = SCHEMAS.get('settings') ?? {};
    const text = Object.entries(full(root, root, NONE) as object)
      .map(([key, value]) => `${key}: ${flow(value)}\n`)
      .join('');
    expect(unreadTexts(text, readSettings(text, 'settings'))).toEqual(['1']);
  });
});

/** A piece of a plan before it is written down: a scalar as text, a mapping as pairs, or a list. */
export type Node =
  | { readonly scalar: string }
  | { readonly pairs: readonly (readonly [string, Node])[] }
  | { readonly list: readonly Node[] };

export interface WritingStyle {
  /** `block` writes a line for each key of the route, `flow` everything inside braces. */
  readonly style: 'block' | 'flow';
  /** Order of the keys of each mapping; the order as given unless said. */
  readonly order?: (keys: readonly string[]) => readonly string[];
}

export const scalar = (text: string): Node => ({ scalar: text });
export const pairs = (...given: readonly (readonly [string, Node | undefined])[]): Node => ({
  pairs: given.flatMap(([key, value]) => (value === undefined ? [] : [[key, value] as const])),
});
export const list = (nodes: readonly Node[]): Node => ({ list: nodes });

const inOrder = (
  given: readonly (readonly [string, Node])[],
  { order }: WritingStyle,
): readonly (readonly [string, Node])[] => {
  if (order === undefined) return given;
  const byKey = new Map(given);
  return order(given.map(([key]) => key)).flatMap((key) => {
    const value = byKey.get(key);
    return value === undefined ? [] : [[key, value] as const];
  });
};

const flow = (node: Node, style: WritingStyle): string => {
  if ('scalar' in node) return node.scalar;
  if ('list' in node) return `[${node.list.map((one) => flow(one, style)).join(', ')}]`;
  return `{ ${inOrder(node.pairs, style)
    .map(([key, value]) => `${key}: ${flow(value, style)}`)
    .join(', ')} }`;
};

const block = (node: Node, indent: string, style: WritingStyle): string => {
  if ('scalar' in node) return ` ${node.scalar}\n`;
  if ('list' in node) {
    if (node.list.length === 0) return ' []\n';
    return `\n${node.list.map((one) => `${indent}-${block(one, `${indent}  `, style).replace(/^\n\s*/, ' ')}`).join('')}`;
  }
  return `\n${inOrder(node.pairs, style)
    .map(([key, value]) => `${indent}${key}:${block(value, `${indent}  `, style)}`)
    .join('')}`;
};

/** A whole plan as YAML. Top-level keys always have lines of their own. */
export const writePlan = (plan: Node, style: WritingStyle): string => {
  if (!('pairs' in plan)) throw new Error('a plan is a mapping');
  return inOrder(plan.pairs, style)
    .map(([key, value]) => `${key}:${style.style === 'flow' ? ` ${flow(value, style)}\n` : block(value, '  ', style)}`)
    .join('');
};

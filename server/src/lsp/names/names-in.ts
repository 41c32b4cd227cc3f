import type { Blocks } from '../../plan/blocks.ts';
import type { Scalar } from '../../plan/tree.ts';
import type { Span } from '../../text/span.ts';
import type { Language } from '../documents.ts';
import { covers, type Met, walkTrees } from '../trees.ts';

/** What a name is the name of. Places are where a flight begins or lands; several items may share one. */
export type NameKind = 'place' | 'item' | 'observer' | 'obstacle' | 'zone' | 'grid' | 'rule';

export interface Name {
  readonly kind: NameKind;
  readonly name: string;
  readonly span: Span;
  readonly style: Scalar['style'];
  readonly role: 'declares' | 'uses';
}

type Read = readonly [NameKind, Name['role']];

/** Names of a plan by the keys that lead to them; list positions are left out. */
const OF_KEYS: ReadonlyMap<string, Read> = new Map<string, Read>([
  ['crew.observers.name', ['observer', 'declares']],
  ['authorisations.holder', ['observer', 'uses']],
  ['people.by', ['observer', 'uses']],
  ['people.low-speed-mode.by', ['observer', 'uses']],
  ['obstacles.by', ['observer', 'uses']],
  ['weather.by', ['observer', 'uses']],
  ['preflight.by', ['observer', 'uses']],
  ['restrictions.by', ['observer', 'uses']],
  ['obstacles.listed.name', ['obstacle', 'declares']],
  ['obstacles.requests.for', ['obstacle', 'uses']],
  ['authorisations.zone', ['zone', 'uses']],
  ['authorisations.grid', ['grid', 'uses']],
  ['accepts.rule', ['rule', 'uses']],
  ['preflight.covers', ['rule', 'uses']],
  ['off.rule', ['rule', 'uses']],
]);

const ofItem = (shape: Met['shape'], key: string): Read | undefined => {
  if (key !== shape) return undefined;
  if (shape === 'take-off') return ['place', 'declares'];
  if (shape === 'land') return ['place', 'uses'];
  return shape === 'hold' || shape === 'battery' ? undefined : ['item', 'declares'];
};

const readOf = ({ shape, path }: Met): Read | undefined => {
  const keys = path.filter((step) => typeof step === 'string');
  const [first = ''] = keys;
  return (keys.length === 1 ? ofItem(shape, first) : undefined) ?? OF_KEYS.get(keys.join('.'));
};

const FLY_TO = /^fly to +/;

/** The place that an aircraft without its link flies to: `fly to jetty`. Which kind it is, its declaration tells. */
const flownTo = ({ path, node }: Met): Omit<Name, 'kind'> | undefined => {
  if (path.join('.') !== 'lost-link.then' || node.kind !== 'scalar' || node.style !== 'plain') return undefined;
  const word = FLY_TO.exec(node.text)?.[0];
  if (word === undefined) return undefined;
  const name = node.text.slice(word.length);
  return { name, role: 'uses', style: 'plain', span: { ...node.span, from: node.span.to - name.length } };
};

/** Every name that a document declares or uses, in the order of its text. */
export const namesIn = (blocks: Blocks, language: Language): readonly Name[] => {
  const met = [...walkTrees(blocks, language)];
  const names = declaredAndUsed(met);
  const flown = met.flatMap((each) => flownTo(each) ?? []);
  if (flown.length === 0) return names;
  const isPlace = (name: string): boolean => names.some((each) => each.kind === 'place' && each.name === name);
  return [...names, ...flown.map((each): Name => ({ ...each, kind: isPlace(each.name) ? 'place' : 'item' }))];
};

const declaredAndUsed = (all: readonly Met[]): readonly Name[] =>
  all.flatMap((met): readonly Name[] => {
    const { node } = met;
    if (node.kind !== 'scalar' || node.text.trim() === '' || node.style === 'block') return [];
    const read = readOf(met);
    if (read === undefined) return [];
    return [{ kind: read[0], role: read[1], name: node.text, span: node.span, style: node.style }];
  });

/** What is named at an offset, and everywhere else that it is named in the same document. */
export const namedAt = (
  names: readonly Name[],
  offset: number,
): { readonly here: Name; readonly all: readonly Name[] } | undefined => {
  const here = names.find(({ span }) => covers(span, offset));
  if (here === undefined) return undefined;
  return { here, all: names.filter(({ kind, name }) => kind === here.kind && name === here.name) };
};

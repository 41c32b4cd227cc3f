import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver';
import type { Item, ItemKind, Plan } from '../plan/model.ts';
import { rangeOf } from './convert.ts';
import type { Judgement } from './judgement.ts';

/** Outlines of many thousand entries make an editor stutter. */
const MOST = 5000;

const KINDS: Readonly<Partial<Record<ItemKind, SymbolKind>>> = {
  'take-off': SymbolKind.Event,
  land: SymbolKind.Event,
  area: SymbolKind.Namespace,
  point: SymbolKind.Field,
};

const sayDetail = (item: Item): string => {
  const heights = item.area === undefined ? [item.altitude] : [item.area.from, item.area.to];
  const said = heights.flatMap((height) =>
    height === undefined ? [] : [`${height.number} ${height.unit} ${height.datum}`],
  );
  return [item.kind, said.join(' to ')].filter((part) => part !== '').join(', ');
};

const symbolOf = (item: Item, judgement: Judgement): DocumentSymbol => ({
  // An empty name would make some clients drop the whole outline.
  name: item.id.value.trim() === '' ? item.kind : item.id.value,
  detail: sayDetail(item),
  kind: KINDS[item.kind] ?? SymbolKind.Object,
  range: rangeOf(item.span, judgement.lines),
  selectionRange: rangeOf(item.id.span, judgement.lines),
});

/** The protocol wants the name's range inside the item's; a client drops the whole outline where one is not. */
const contained = ({ range, selectionRange }: DocumentSymbol): boolean => {
  const after = (a: DocumentSymbol['range']['start'], b: DocumentSymbol['range']['start']): boolean =>
    a.line > b.line || (a.line === b.line && a.character >= b.character);
  return after(selectionRange.start, range.start) && after(range.end, selectionRange.end);
};

const symbolsOfPlan = (plan: Plan, judgement: Judgement): DocumentSymbol[] =>
  plan.items
    .slice(0, MOST)
    .map((item) => symbolOf(item, judgement))
    .map((symbol) => (contained(symbol) ? symbol : { ...symbol, selectionRange: symbol.range }));

/** The outline of a mission: its route items in the order of the text. */
export const symbolsOf = (judgement: Judgement): DocumentSymbol[] =>
  judgement.input === undefined ? [] : symbolsOfPlan(judgement.input.plan, judgement);

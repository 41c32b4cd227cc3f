import type { Range } from 'vscode-languageserver';
import type { FactTools } from '../facts/fact.ts';
import type { Item, Plan } from '../plan/model.ts';
import type { Review } from '../review/outcome.ts';
import { endOf, type Span, startOf, type Written } from '../text/span.ts';
import { rangeOf } from './convert.ts';
import { spanHere } from './diagnostics.ts';
import { fieldAt } from './hover-field.ts';
import { tellFinding, tellNamedRule } from './hover-finding.ts';
import { tellHeight, tellItem } from './hover-item.ts';
import { pictureFor } from './hover-picture.ts';
import { referenceAt } from './hover-reference.ts';
import { tellTitle } from './hover-title.ts';
import type { Judgement } from './judgement.ts';
import { joinParagraphs } from './markdown.ts';

interface Told {
  readonly span: Span;
  readonly text: string;
}

const covers = (span: Span, offset: number): boolean => startOf(span) <= offset && offset <= endOf(span);

const findingsAt = (judgement: Judgement, offset: number): readonly Told[] =>
  judgement.findings.flatMap((finding) => {
    const span = spanHere(finding.at, judgement);
    return covers(span, offset) ? [{ span, text: tellFinding(finding) }] : [];
  });

/** The names of rules that a plan holds: in acceptances and in preflight statements. */
const rulesNamed = (plan: Plan): readonly Written<string>[] => [
  ...[...plan.accepts, ...plan.items.flatMap((item) => item.accepts)].flatMap(({ rule }) => rule ?? []),
  ...plan.preflight.flatMap(({ covers: rules }) => rules),
];

const ruleAt = (plan: Plan, offset: number): readonly Told[] =>
  rulesNamed(plan).flatMap(({ value, span }) => {
    const text = covers(span, offset) ? tellNamedRule(value) : undefined;
    return text === undefined ? [] : [{ span, text }];
  });

const heightsOf = (item: Item): readonly Span[] =>
  [item.altitude, item.climbTo, item.area?.from, item.area?.to].flatMap((height) => height?.span ?? []);

/** What the client can show of a hover beside words. */
export type Pictures = 'pictures' | 'words only';

const itemAt = (
  plan: Plan,
  offset: number,
  tools: FactTools,
  review: Review | undefined,
  pictures: Pictures,
): { readonly told: readonly Told[]; readonly named: boolean } | undefined => {
  const item = plan.items.find(({ span }) => covers(span, offset));
  if (item === undefined) return undefined;
  if (covers(item.id.span, offset)) {
    const picture = review === undefined || pictures === 'words only' ? undefined : pictureFor(item, review, tools);
    const told = [tellItem(item, tools, review?.margins), ...(picture === undefined ? [] : [picture])];
    return { told: told.map((text) => ({ span: item.id.span, text })), named: true };
  }
  const height = heightsOf(item).find((span) => covers(span, offset));
  if (height === undefined) return undefined;
  return { told: [{ span: height, text: tellHeight(item, tools).join('  \n') }], named: false };
};

/**
 * What a place in a document has to tell: findings there, then what is worked out for it, then what the field is.
 * Undefined where it has nothing to tell.
 */
export const hoverAt = (
  judgement: Judgement,
  offset: number,
  pictures: Pictures = 'words only',
): { readonly markdown: string; readonly range: Range } | undefined => {
  const { tools } = judgement;
  const plan = judgement.input?.plan;
  const item =
    plan === undefined || tools === undefined ? undefined : itemAt(plan, offset, tools, judgement.review, pictures);
  const told: readonly Told[] = [
    ...findingsAt(judgement, offset),
    ...(plan === undefined ? [] : ruleAt(plan, offset)),
    ...(plan !== undefined && covers(spanHere(plan.titleSpan, judgement), offset)
      ? [{ span: spanHere(plan.titleSpan, judgement), text: tellTitle(judgement) }]
      : []),
    ...referenceAt(judgement, offset),
    ...(item?.told ?? []),
    // What a name is needs no telling where the thing itself has been told.
    ...(item?.named === true ? [] : fieldAt(judgement.document, offset)),
  ].filter(({ text }) => text !== '');
  // The narrowest place is the one the pointer is about.
  const [narrowest] = [...told].sort((one, other) => one.span.to - one.span.from - (other.span.to - other.span.from));
  if (narrowest === undefined) return undefined;
  return {
    markdown: joinParagraphs(told.map(({ text }) => text)),
    range: rangeOf(narrowest.span, judgement.lines),
  };
};

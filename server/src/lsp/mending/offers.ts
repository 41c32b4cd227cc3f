import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  CodeActionTriggerKind,
  type SnippetTextEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Finding } from '../../rulebook/finding.ts';
import { isAbout, isWanted } from '../actions.ts';
import { withoutStops } from '../completion/blanks-to-fill.ts';
import { rangeBetween, rangeOf, touches } from '../convert.ts';
import { spanHere } from '../diagnostics.ts';
import { offsetAt } from '../documents.ts';
import type { Judgement } from '../judgement.ts';
import { offerAcceptance } from './accept.ts';
import { offerLeave } from './authorise.ts';
import { offerNewDate } from './new-date.ts';
import type { BlankEdit, Offer } from './offer.ts';
import { offerPlainPositions } from './positions.ts';
import { offerWholeRoute, type Rejudge } from './whole-route.ts';

/** How the client takes edits. */
export interface OfferTerms {
  readonly versioned: boolean;
  /** Whether edits may have blanks to which the cursor goes. */
  readonly takesBlanks: boolean;
  readonly rejudge: Rejudge;
}

const hasBlanks = (text: string): boolean => /\$\{\d/.test(text);

const editOf = (edit: BlankEdit, judgement: Judgement, terms: OfferTerms): TextEdit | SnippetTextEdit => {
  const { text, lines } = judgement.document;
  const range = rangeBetween(lines, edit.from, edit.to);
  const eol = judgement.input?.plan.eol ?? '\n';
  if (!hasBlanks(edit.text)) return { range, newText: edit.text };
  if (terms.versioned && terms.takesBlanks) return { range, snippet: { kind: 'snippet', value: edit.text } };
  const lineStart = text.lastIndexOf('\n', edit.from - 1) + 1;
  const lead = /^ */.exec(text.slice(lineStart))?.[0] ?? '';
  return { range, newText: withoutStops(edit.text).replaceAll('\n', `${eol}${lead}`) };
};

const workspaceEditOf = ({ edits }: Offer, judgement: Judgement, terms: OfferTerms): WorkspaceEdit => {
  const { uri, version } = judgement.document;
  const own = edits.map((edit) => editOf(edit, judgement, terms));
  if (terms.versioned) return { documentChanges: [{ textDocument: { uri, version }, edits: own }] };
  return { changes: { [uri]: own.flatMap((edit) => ('newText' in edit ? [edit] : [])) } };
};

const findingsAt = (params: CodeActionParams, judgement: Judgement): readonly Finding[] =>
  judgement.findings.filter((finding) =>
    touches(rangeOf(spanHere(finding.at, judgement), judgement.lines), params.range),
  );

const onPlan = async (
  params: CodeActionParams,
  judgement: Judgement,
  here: readonly Finding[],
  terms: OfferTerms,
): Promise<readonly Offer[]> => {
  const { document, input, review } = judgement;
  if (input === undefined || review === undefined) return [];
  const { plan } = input;
  const window = plan.window?.span;
  const at = window === undefined ? undefined : rangeOf(window, judgement.lines);
  const isAtWindow =
    at !== undefined && at.start.line <= params.range.end.line && params.range.start.line <= at.end.line;
  const rules = [...new Set(here.map(({ rule }) => rule))];
  const offers: Offer[] = [];
  // An editor asks at each move of the cursor whether there is anything; what takes a review is for when a person asks.
  if (params.context.triggerKind !== CodeActionTriggerKind.Automatic)
    for (const rule of rules) offers.push(...(await offerWholeRoute(judgement, rule, terms.rejudge)));
  return [
    ...offers,
    ...here.flatMap((finding) => offerLeave(finding, document, plan, review.ruleSet)),
    ...here.flatMap((finding) => offerAcceptance(finding, document, plan)),
    ...offerNewDate(document, plan, input.now, rules, isAtWindow),
  ];
};

/** The mends that no rule offers: those of the whole route, and those that wait for a person's word. */
export const offersFor = async (
  params: CodeActionParams,
  judgement: Judgement,
  terms: OfferTerms,
): Promise<CodeAction[]> => {
  const { document } = judgement;
  const { only } = params.context;
  const isAsked = [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite].some((kind) => isWanted(only, kind));
  if (judgement.fault !== undefined || !isAsked) return [];
  const { text, lines } = document;
  const range = [offsetAt(text, lines, params.range.start), offsetAt(text, lines, params.range.end)] as const;
  const here = findingsAt(params, judgement);
  const offers = [
    ...offerPlainPositions(document, range[0], range[1], here),
    ...(await onPlan(params, judgement, here, terms)),
  ];
  return offers
    .filter(({ kind }) => isWanted(only, kind))
    .map((offer) => {
      const { title, kind, finding } = offer;
      const about = params.context.diagnostics.filter((each) => finding !== undefined && isAbout(each, finding));
      return {
        title,
        kind,
        edit: workspaceEditOf(offer, judgement, terms),
        ...(about.length === 0 ? {} : { diagnostics: about }),
      };
    });
};

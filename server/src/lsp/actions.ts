import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  type Diagnostic,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { bulkFixes, compatible } from '../review/mend.ts';
import type { Edit, Finding, Fix } from '../rulebook/finding.ts';
import { rangeOf, touches } from './convert.ts';
import { spanHere } from './diagnostics.ts';
import type { Judgement } from './judgement.ts';

export const FIX_ALL = `${CodeActionKind.SourceFixAll}.waywarden`;

/** How the client takes edits, and how documents are addressed. */
export interface EditTerms {
  readonly versioned: boolean;
  uriOf(location: string): string;
  /** Version of an open document; null for one that is not open. */
  versionOf(uri: string): number | null;
}

export const workspaceEdit = (edits: readonly Edit[], judgement: Judgement, terms: EditTerms): WorkspaceEdit => {
  const byUri = new Map<string, TextEdit[]>();
  for (const edit of edits) {
    const uri = terms.uriOf(edit.span.anchor.document);
    const own = byUri.get(uri) ?? [];
    own.push({ range: rangeOf(edit.span, judgement.lines), newText: edit.text });
    byUri.set(uri, own);
  }
  if (!terms.versioned) return { changes: Object.fromEntries(byUri) };
  return {
    documentChanges: [...byUri].map(([uri, own]) => ({
      textDocument: {
        uri,
        version: uri === judgement.document.uri ? judgement.document.version : terms.versionOf(uri),
      },
      edits: own,
    })),
  };
};

/** Whether a kind was asked for; kinds are a hierarchy, parted by dots. */
export const isWanted = (only: readonly string[] | undefined, kind: string): boolean =>
  only === undefined || only.some((asked) => asked === '' || kind === asked || kind.startsWith(`${asked}.`));

export const isAbout = (diagnostic: Diagnostic, finding: Finding): boolean => {
  const { data } = diagnostic;
  const mark: unknown = typeof data === 'object' && data !== null ? Reflect.get(data, 'fingerprint') : undefined;
  return mark === undefined
    ? diagnostic.code === finding.rule && diagnostic.message === finding.message
    : mark === finding.fingerprint;
};

/**
 * A preferred mend may be made by one key without being read first. Where several are offered, one of them is only
 * that when it leaves the flight as it is: which unit a bare number has is for a person to say.
 */
const isPlain = (fix: Fix, index: number, finding: Finding): boolean =>
  index === 0 && (finding.fixes?.length === 1 || fix.effect === 'same-flight');

const quickFixes = (params: CodeActionParams, judgement: Judgement, terms: EditTerms): readonly CodeAction[] =>
  judgement.findings
    .filter((finding) => touches(rangeOf(spanHere(finding.at, judgement), judgement.lines), params.range))
    .flatMap((finding) => {
      const diagnostics = params.context.diagnostics.filter((diagnostic) => isAbout(diagnostic, finding));
      return (finding.fixes ?? [])
        .filter((fix) => fix.edits.every((edit) => judgement.lines.has(edit.span.anchor.document)))
        .map((fix, index) => ({
          title: fix.title,
          kind: CodeActionKind.QuickFix,
          edit: workspaceEdit(fix.edits, judgement, terms),
          ...(diagnostics.length === 0 ? {} : { diagnostics }),
          ...(isPlain(fix, index, finding) ? { isPreferred: true } : {}),
        }));
    });

const fixAll = (judgement: Judgement, terms: EditTerms): readonly CodeAction[] => {
  const { edits, together } = compatible(judgement.document.location, bulkFixes(judgement.findings));
  if (edits.length === 0) return [];
  const slips = together.length === 1 ? 'the one slip that leaves' : `the ${together.length} slips that leave`;
  const title = `Mend ${slips} the flight as it is`;
  return [{ title, kind: FIX_ALL, edit: workspaceEdit(edits, judgement, terms) }];
};

/** The mends that can be offered for a range. Only those that leave the flight as it is are offered in bulk. */
export const actionsFor = (params: CodeActionParams, judgement: Judgement, terms: EditTerms): CodeAction[] => {
  const { only } = params.context;
  return [
    ...(isWanted(only, CodeActionKind.QuickFix) ? quickFixes(params, judgement, terms) : []),
    // Without a kind the request comes from the light bulb, where a bulk mend would only crowd out the one at hand.
    ...(only !== undefined && isWanted(only, FIX_ALL) ? fixAll(judgement, terms) : []),
  ];
};

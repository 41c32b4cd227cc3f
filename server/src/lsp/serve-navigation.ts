import {
  type DocumentHighlight,
  DocumentHighlightKind,
  type InitializeResult,
  type Location,
  LSPErrorCodes,
  ResponseError,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Blocks } from '../plan/blocks.ts';
import { endOf, startOf } from '../text/span.ts';
import type { ClientTerms } from './client-terms.ts';
import { rangeBetween } from './convert.ts';
import type { Desk } from './desk.ts';
import { type OpenDocument, offsetAt } from './documents.ts';
import { foldsOf } from './layout/folding.ts';
import { formattingOf } from './layout/format.ts';
import { linksOf, locationOfReference, referencesIn } from './layout/links.ts';
import { selectionAt } from './layout/selection.ts';
import { type NamedPlace, placesOfName } from './names/names-elsewhere.ts';
import { type Name, namedAt, namesIn } from './names/names-in.ts';
import { flawOfName, renamed } from './names/rename.ts';
import { pageOfRule, textOfPage } from './rule-page.ts';

/** What finds its way around documents, as it is told to the client. */
export const navigationCapabilities = (terms: ClientTerms): InitializeResult['capabilities'] => ({
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: { resolveProvider: false },
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: terms.preparesRename ? { prepareProvider: true } : true,
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
});

const namesKnown = new WeakMap<Blocks, readonly Name[]>();

/** The names of a document, read once for each text: an editor asks at every move of the cursor. */
const namesOf = (document: OpenDocument): readonly Name[] => {
  const blocks = document.trees.of(document);
  const known = namesKnown.get(blocks) ?? namesIn(blocks, document.language);
  namesKnown.set(blocks, known);
  return known;
};

const rangeIn = ({ lines }: OpenDocument, { span }: Name) => rangeBetween(lines, startOf(span), endOf(span));

export const serveNavigation = (desk: Desk): void => {
  const { connection, machine } = desk;

  const rootOf = async (document: OpenDocument): Promise<string> => {
    const files = desk.running()?.session.files;
    return files === undefined ? document.location : machine.rootOf(files, document.location);
  };
  const uriOf = (location: string): string => desk.running()?.session.uriOf(location) ?? machine.uriOf(location);
  const at = ({ text, lines }: OpenDocument, position: Parameters<typeof offsetAt>[2]): number =>
    offsetAt(text, lines, position);

  const places = async (
    name: Name,
    document: OpenDocument,
    isGivenUp: () => boolean,
  ): Promise<readonly NamedPlace[]> => {
    const running = desk.running();
    if (running === undefined) return [];
    return placesOfName(name, document, await rootOf(document), running.session.files, isGivenUp);
  };

  connection.onFoldingRanges(({ textDocument: { uri } }) =>
    desk.guarded('folding', [], () => foldsOf(desk.document(uri)?.text ?? '')),
  );

  connection.onSelectionRanges(({ textDocument: { uri }, positions }) =>
    desk.guarded('selection', [], () => {
      const document = desk.document(uri);
      return document === undefined ? [] : positions.map((position) => selectionAt(document, at(document, position)));
    }),
  );

  connection.onDocumentLinks(({ textDocument: { uri } }) =>
    desk.guarded('links', [], async () => {
      const document = desk.document(uri);
      const files = desk.running()?.session.files;
      return document === undefined || files === undefined
        ? []
        : linksOf(document, await rootOf(document), files, uriOf);
    }),
  );

  connection.onDefinition(({ textDocument: { uri }, position }, token) =>
    desk.guarded('definition', null, async () => {
      const document = desk.document(uri);
      const running = desk.running();
      if (document === undefined || running === undefined) return null;
      const offset = at(document, position);
      const reference = referencesIn(document).find(({ from, to }) => from <= offset && offset <= to);
      if (reference !== undefined) {
        const { files } = running.session;
        const location = locationOfReference(reference.text, document.location, await rootOf(document), files);
        return location === undefined ? null : { uri: uriOf(location), range: rangeBetween(document.lines, 0, 0) };
      }
      const named = namedAt(namesOf(document), offset);
      if (named === undefined) return null;
      if (named.here.kind === 'rule') {
        const page = pageOfRule(named.here.name);
        if (!running.terms.opensPages || textOfPage(page) === undefined) return null;
        return { uri: page, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } } };
      }
      const found = await places(named.here, document, () => token.isCancellationRequested);
      return found
        .filter(({ role }) => role === 'declares')
        .map(({ location, range }): Location => ({ uri: uriOf(location), range }));
    }),
  );

  connection.onReferences(({ textDocument: { uri }, position, context }, token) =>
    desk.guarded('references', null, async () => {
      const document = desk.document(uri);
      if (document === undefined) return null;
      const named = namedAt(namesOf(document), at(document, position));
      if (named === undefined) return null;
      const found = await places(named.here, document, () => token.isCancellationRequested);
      return found
        .filter(({ role }) => context.includeDeclaration || role === 'uses')
        .map(({ location, range }): Location => ({ uri: uriOf(location), range }));
    }),
  );

  connection.onDocumentHighlight(({ textDocument: { uri }, position }) =>
    desk.guarded('highlights', null, () => {
      const document = desk.document(uri);
      if (document === undefined) return null;
      return (namedAt(namesOf(document), at(document, position))?.all ?? []).map(
        (name): DocumentHighlight => ({
          range: rangeIn(document, name),
          kind: name.role === 'declares' ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
        }),
      );
    }),
  );

  connection.onPrepareRename(({ textDocument: { uri }, position }) =>
    desk.guarded('rename', null, () => {
      const document = desk.document(uri);
      if (document === undefined) return null;
      const named = namedAt(namesOf(document), at(document, position));
      if (named === undefined || named.here.kind === 'rule') return null;
      return { range: rangeIn(document, named.here), placeholder: named.here.name };
    }),
  );

  connection.onRenameRequest(
    async ({ textDocument: { uri }, position, newName }, token): Promise<WorkspaceEdit | null> => {
      const document = desk.document(uri);
      const running = desk.running();
      if (document === undefined || running === undefined) return null;
      const names = namesOf(document);
      const named = namedAt(names, at(document, position));
      if (named === undefined) return null;
      const taken = names
        .filter(({ kind, role }) => kind === named.here.kind && role === 'declares')
        .map(({ name }) => name);
      const flaw = flawOfName(newName, named.here, taken);
      if (flaw !== undefined) throw new ResponseError(LSPErrorCodes.RequestFailed, flaw);
      return desk.guarded<WorkspaceEdit | null>('rename', null, async () => {
        const found = await places(named.here, document, () => token.isCancellationRequested);
        const edits = [...renamed(found, newName)].map(
          ([location, own]) => [uriOf(location), [...own]] as [string, TextEdit[]],
        );
        if (!running.terms.versionedEdits) return { changes: Object.fromEntries(edits) };
        return {
          documentChanges: edits.map(([target, own]) => ({
            textDocument: { uri: target, version: desk.document(target)?.version ?? null },
            edits: own,
          })),
        };
      });
    },
  );

  connection.onDocumentFormatting(({ textDocument: { uri } }) =>
    desk.guarded('formatting', [], () => {
      const document = desk.document(uri);
      return document === undefined ? [] : formattingOf(document);
    }),
  );

  connection.onDocumentRangeFormatting(({ textDocument: { uri }, range }) =>
    desk.guarded('formatting', [], () => {
      const document = desk.document(uri);
      if (document === undefined) return [];
      return formattingOf(document, [at(document, range.start), at(document, range.end)]);
    }),
  );

  connection.workspace.textDocumentContent.on(({ uri }) => {
    const text = textOfPage(uri);
    return text === undefined ? null : { text };
  });
};

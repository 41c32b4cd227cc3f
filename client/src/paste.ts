import {
  type Disposable,
  DocumentDropOrPasteEditKind,
  DocumentPasteEdit,
  type DocumentSelector,
  languages,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

const PLAIN = 'text/plain';
const LONGEST = 200;

/** A position that is pasted where one can stand comes in as the plan has it; undoing once gives the pasted text back. */
export const pastePositions = (client: BaseLanguageClient, selector: DocumentSelector): Disposable => {
  const kind = DocumentDropOrPasteEditKind.Text.append('position');
  return languages.registerDocumentPasteEditProvider(
    selector,
    {
      provideDocumentPasteEdits: async (document, [range], data, _context, token) => {
        const text = await data.get(PLAIN)?.asString();
        if (range === undefined || text === undefined || text.length > LONGEST || token.isCancellationRequested)
          return [];
        const position = client.code2ProtocolConverter.asPosition(range.start);
        const uri = client.code2ProtocolConverter.asUri(document.uri);
        const written = await client.sendRequest<string | null>(
          'waywarden/pastedPosition',
          { uri, position, text },
          token,
        );
        return written === null ? [] : [new DocumentPasteEdit(written, 'Paste as a position', kind)];
      },
    },
    { providedPasteEditKinds: [kind], pasteMimeTypes: [PLAIN] },
  );
};

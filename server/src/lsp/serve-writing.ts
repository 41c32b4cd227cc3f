import type { InitializeResult, Position } from 'vscode-languageserver';
import { describeField } from '../plan/describe.ts';
import type { ClientTerms } from './client-terms.ts';
import { complete } from './completion/complete.ts';
import { cursorAt } from './completion/cursor.ts';
import type { Known } from './completion/words.ts';
import type { Desk, Running } from './desk.ts';
import { type OpenDocument, offsetAt } from './documents.ts';
import { positionIn, sayPasted } from './mending/pasted-position.ts';

/** What helps to write a document, as it is told to the client. */
export const writingCapabilities = (_terms: ClientTerms): InitializeResult['capabilities'] => ({
  completionProvider: { triggerCharacters: [' ', '-', '/', '{', '[', ',', ':'] },
});

/** A key press waits no longer than this for a review; names and places of the text before then do. */
const SOON_MS = 250;

const wait = (ms: number): Promise<undefined> => new Promise((resolve) => setTimeout(() => resolve(undefined), ms));

/** What is known of a document: of its text as it stands where that is soon to be had, else of the last one judged. */
const knownOf = async ({ session }: Running, document: OpenDocument, now: Known['now']): Promise<Known> => {
  const { uri } = document;
  const judgement = session.last(uri) ?? (await Promise.race([session.judged(uri), wait(SOON_MS)]));
  const { input, findings = [] } = judgement ?? {};
  return { now, findings, ...(input === undefined ? {} : { plan: input.plan, world: input.world }) };
};

/**
 * A request of ours, `{ uri, position, text }`: the text as a position the way a plan has it, where a position can stand
 * there and the text is one in any common notation; otherwise null, and the client pastes the text as it is.
 */
export const PASTED_POSITION = 'waywarden/pastedPosition';

interface Pasted {
  readonly uri: string;
  readonly position: Position;
  readonly text: string;
}

const positionFor = (document: OpenDocument, { position, text }: Pasted): string | null => {
  const offset = offsetAt(document.text, document.lines, position);
  const cursor = cursorAt(document.text, offset, document.language);
  if (cursor === undefined || cursor.place === 'key' || cursor.typed !== '') return null;
  const path = cursor.place === 'entry' ? [...cursor.path, 0] : cursor.path;
  const reads = describeField(cursor.shape, path)?.reads;
  if (reads !== 'position' && reads !== 'stands') return null;
  const read = positionIn(text);
  return read === undefined ? null : sayPasted(read, cursor.style);
};

export const serveWriting = (desk: Desk): void => {
  const { connection, machine } = desk;

  connection.onCompletion(({ textDocument: { uri }, position }, token) =>
    desk.guarded('completion', null, async () => {
      const running = desk.running();
      const document = desk.document(uri);
      if (running === undefined || document === undefined) return null;
      const { session, terms } = running;
      const known = await knownOf(running, document, machine.now());
      const { text, lines, location } = document;
      return complete(document, offsetAt(text, lines, position), known, {
        ...terms.completion,
        files: session.files,
        root: () => machine.rootOf(session.files, location),
        isGivenUp: () => token.isCancellationRequested,
      });
    }),
  );

  connection.onRequest(PASTED_POSITION, (params: Pasted) =>
    desk.guarded('pasting', null, () => {
      const document = desk.document(params.uri);
      return document === undefined ? null : positionFor(document, params);
    }),
  );
};

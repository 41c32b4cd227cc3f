import type { InitializeResult } from 'vscode-languageserver';
import type { ClientTerms } from './client-terms.ts';
import { complete } from './completion/complete.ts';
import type { Known } from './completion/words.ts';
import type { Desk, Running } from './desk.ts';
import { type OpenDocument, offsetAt } from './documents.ts';

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
};

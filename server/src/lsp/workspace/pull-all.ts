import {
  type CancellationToken,
  type Connection,
  LSPErrorCodes,
  ResponseError,
  type ResultProgressReporter,
  type WorkspaceDiagnosticParams,
  type WorkspaceDiagnosticReport,
  type WorkspaceDiagnosticReportPartialResult,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import type { Session } from '../session.ts';
import { documentsBelow } from './documents-below.ts';
import { SavedDocuments, type SavedReport } from './saved.ts';

/** How long an answer is held back while nothing changes; then what hangs on the clock is judged again. */
const HELD_MS = 10 * 60_000;

/** Changes often come several at a time: a checkout, a save of all. */
const SETTLE_MS = 200;

/** Fewer documents than these are judged before anybody would read how far it is. */
const WORTH_PROGRESS = 10;

/** While somebody waits for an open document, the others wait. */
const STEP_ASIDE_MS = 50;

const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

interface Progress {
  report(done: number, of: number): void;
  done(): void;
  isCancelled(): boolean;
}

const noProgress: Progress = { report: () => {}, done: () => {}, isCancelled: () => false };

/**
 * Answers pulls for the whole workspace. The first answer tells of every document that is not open; each later one is held
 * until something changes and then tells what is different.
 */
export class WorkspacePull {
  readonly #connection: Connection;
  readonly #session: Session;
  readonly #saved: SavedDocuments;
  readonly #showsProgress: boolean;
  /** The folders of the workspace, as locations. */
  folders: readonly string[] = [];
  #wake: (() => void) | undefined;
  #changes = 0;
  #told = -1;

  constructor(
    connection: Connection,
    session: Session,
    terms: { readonly showsProgress: boolean; readonly pageOf: ((rule: string) => string) | undefined },
  ) {
    this.#connection = connection;
    this.#session = session;
    this.#showsProgress = terms.showsProgress;
    this.#saved = new SavedDocuments(session, terms.pageOf);
  }

  /** Something changed that may change what is shown of a document that is not open. */
  changed(): void {
    this.#changes++;
    this.#wake?.();
  }

  async answer(
    { previousResultIds }: WorkspaceDiagnosticParams,
    token: CancellationToken,
    partly: ResultProgressReporter<WorkspaceDiagnosticReportPartialResult> | undefined,
  ): Promise<WorkspaceDiagnosticReport> {
    const known = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
    for (;;) {
      await this.#news(token);
      if (token.isCancellationRequested)
        throw new ResponseError(LSPErrorCodes.RequestCancelled, 'the client asked for this no longer');
      this.#told = this.#changes;
      const items = await this.#judgeAll(known, token, partly);
      if (items.length > 0 || known.size === 0) return { items: partly === undefined ? items : [] };
    }
  }

  /** Resolves when there is something to look at that no answer has told of, or when nobody waits any more. */
  async #news(token: CancellationToken): Promise<void> {
    // A request that was cancelled before it was read carries a token that never tells anybody.
    if (token.isCancellationRequested) return;
    if (this.#told === this.#changes) {
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, HELD_MS);
        const end = (): void => {
          clearTimeout(timer);
          resolve();
        };
        this.#wake = end;
        token.onCancellationRequested(end);
      });
      this.#wake = undefined;
    }
    if (this.#told >= 0 && !token.isCancellationRequested) await wait(SETTLE_MS);
  }

  async #judgeAll(
    known: ReadonlyMap<string, string>,
    token: CancellationToken,
    partly: ResultProgressReporter<WorkspaceDiagnosticReportPartialResult> | undefined,
  ): Promise<WorkspaceDocumentDiagnosticReport[]> {
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    const tell = (item: WorkspaceDocumentDiagnosticReport): void => {
      items.push(item);
      partly?.report({ items: [item] });
    };
    const locations = await documentsBelow(this.folders, this.#session.files, () => token.isCancellationRequested);
    const waiting = new Set(known.keys());
    const progress = locations.length < WORTH_PROGRESS ? noProgress : await this.#begin();
    let done = 0;
    for (const location of locations) {
      progress.report(done++, locations.length);
      const uri = this.#session.uriOf(location);
      waiting.delete(uri);
      // What is open is pulled by itself, as it stands in the editor.
      if (this.#session.document(uri) !== undefined) continue;
      while (this.#session.isBusy && !token.isCancellationRequested) await wait(STEP_ASIDE_MS);
      if (token.isCancellationRequested || progress.isCancelled()) {
        waiting.clear();
        break;
      }
      const report = await this.#saved.report(location, token);
      if (report === undefined || report.resultId === known.get(uri)) continue;
      // A document without findings that the client has never heard of need not be told.
      if (report.items.length > 0 || known.has(uri)) tell(reportOf(report));
    }
    progress.done();
    // Told before and gone now: nothing of it is shown any more. What is open is for its own pulls to tell.
    for (const uri of waiting)
      if (this.#session.document(uri) === undefined) tell({ kind: 'full', uri, version: null, items: [] });
    return items;
  }

  async #begin(): Promise<Progress> {
    if (!this.#showsProgress) return noProgress;
    try {
      const progress = await this.#connection.window.createWorkDoneProgress();
      progress.begin('Waywarden: judging the plans of the workspace', 0, '', true);
      return {
        report: (done, of) => progress.report(Math.floor((100 * done) / of), `${done} of ${of}`),
        done: () => progress.done(),
        isCancelled: () => progress.token.isCancellationRequested,
      };
    } catch {
      return noProgress;
    }
  }
}

const reportOf = ({ uri, resultId, items }: SavedReport): WorkspaceDocumentDiagnosticReport => ({
  kind: 'full',
  uri,
  version: null,
  resultId,
  items: [...items],
});

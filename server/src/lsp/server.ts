import {
  type CancellationToken,
  CodeActionKind,
  type Connection,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  MarkupKind,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { Lines } from '../text/lines.ts';
import { actionsFor, FIX_ALL } from './actions.ts';
import { type ClientTerms, readGrants, readTerms } from './client-terms.ts';
import type { Desk, Running } from './desk.ts';
import { changed, isPastState, languageOf, offsetAt } from './documents.ts';
import { hoverAt } from './hover.ts';
import type { Machine } from './machine.ts';
import { plainOf } from './markdown.ts';
import { offersFor } from './mending/offers.ts';
import { isMission } from './names/names-elsewhere.ts';
import { OpenFiles } from './open-files.ts';
import { answerPull } from './pull.ts';
import { Push } from './push.ts';
import { requestFiles } from './request-files.ts';
import { pageOfRule, RULE_SCHEME } from './rule-page.ts';
import { glanceCapabilities, refreshGlance, STATUS, serveGlance, statusOf, watchSettings } from './serve-glance.ts';
import { navigationCapabilities, serveNavigation } from './serve-navigation.ts';
import { serveView } from './serve-view.ts';
import { serveWriting, writingCapabilities } from './serve-writing.ts';
import { Session } from './session.ts';
import { symbolsOf } from './symbols.ts';
import { Trees } from './trees.ts';
import { WorkspacePull } from './workspace/pull-all.ts';

/** A client of ours sends this when a person changes what is granted: `{ dataFolders, restricted }`. */
export const GRANTS_CHANGED = 'waywarden/grantsChanged';

/** Sent to the same clients as `STATUS`: `{ uri, ended }` when the judgement of a document begins and ends. */
export const JUDGING = 'waywarden/judging';

/** Plans, and files that a plan can refer to. */
const WATCHED = [
  '**/*.{mission,aircraft,mapping}.{yaml,yml}',
  '**/waywarden.settings.yaml',
  '**/*.{geojson,json,tif,tiff,hgt}',
];

const capabilities = (terms: ClientTerms): InitializeResult['capabilities'] => ({
  workspace: {
    workspaceFolders: { supported: true, changeNotifications: true },
    ...(terms.opensPages ? { textDocumentContent: { schemes: [RULE_SCHEME] } } : {}),
  },
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  ...writingCapabilities(terms),
  ...navigationCapabilities(terms),
  ...glanceCapabilities(terms),
  hoverProvider: true,
  documentSymbolProvider: true,
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, FIX_ALL] },
  ...(terms.pulls
    ? {
        diagnosticProvider: {
          identifier: 'waywarden',
          interFileDependencies: true,
          workspaceDiagnostics: terms.wantsAll,
        },
      }
    : {}),
});

/** Serves one client until it leaves. No handler throws: a failure is logged and answered with nothing. */
export const start = (connection: Connection, machine: Machine): void => {
  let running: Running | undefined;
  let serial = 0;

  const log = (what: string, error: unknown): void =>
    connection.console.error(`${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);

  const guarded = async <T>(what: string, nothing: T, work: () => Promise<T> | T): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      log(what, error);
      return nothing;
    }
  };

  /** Tells the client that what it shows may have changed, by whichever way it has. */
  const news = (): void => {
    if (running === undefined) return;
    refreshGlance(desk);
    running.all?.changed();
    if (running.push !== undefined) running.push.all();
    else if (running.terms.refreshes) {
      connection.languages.diagnostics.refresh().catch((error: unknown) => log('refresh', error));
    }
  };

  const put = (uri: string, languageId: string, version: number, text: string): void => {
    if (running === undefined || isPastState(uri)) return;
    const language = languageOf(languageId, uri);
    const location = machine.locationOf(uri);
    const before = running.session.document(uri);
    const trees = before?.language === language ? before.trees : new Trees();
    running.session.put({ uri, location, language, version, serial: ++serial, text, lines: new Lines(text), trees });
    // Other documents may rest on this one.
    if (language !== 'mission') news();
    else {
      running.push?.soon(uri);
      // From now on it is pulled by itself.
      if (before === undefined) running.all?.changed();
    }
  };

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    const terms = readTerms(params, machine.dataFolders);
    const files = new OpenFiles(machine.files(terms.opensFiles ? requestFiles(connection) : undefined));
    const session = new Session(machine, files, terms.grants, terms.suspects);
    const all = terms.wantsAll
      ? new WorkspacePull(connection, session, {
          showsProgress: terms.showsProgress,
          pageOf: terms.opensPages ? pageOfRule : undefined,
        })
      : undefined;
    if (all !== undefined) all.folders = terms.folders.map((uri) => machine.locationOf(uri));
    running = { terms, session, push: terms.pulls ? undefined : new Push(connection, session), all };
    if (terms.showsStatus) {
      session.onJudging = (uri, ended) => void connection.sendNotification(JUDGING, { uri, ended });
      session.onJudged = (judgement) => {
        if (judgement.document.language === 'mission') void connection.sendNotification(STATUS, statusOf(judgement));
      };
    }
    return {
      capabilities: capabilities(terms),
      serverInfo: { name: 'waywarden', version: machine.version },
    };
  });

  connection.onInitialized(() => {
    if (running?.terms.changesFolders === true)
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const all = running?.all;
        if (all === undefined) return;
        const gone = new Set(removed.map(({ uri }) => machine.locationOf(uri)));
        all.folders = [
          ...all.folders.filter((folder) => !gone.has(folder)),
          ...added.map(({ uri }) => machine.locationOf(uri)),
        ];
        all.changed();
      });
    void watchSettings(desk);
    if (running?.terms.watches !== true) return;
    connection.client
      .register(DidChangeWatchedFilesNotification.type, { watchers: WATCHED.map((globPattern) => ({ globPattern })) })
      .catch((error: unknown) => log('watching files', error));
  });

  connection.onNotification(GRANTS_CHANGED, (params: unknown) => {
    running?.session.grant(readGrants(params, machine.dataFolders));
    news();
  });

  connection.onDidOpenTextDocument(({ textDocument: { uri, languageId, version, text } }) =>
    guarded('opening', undefined, () => put(uri, languageId, version, text)),
  );

  connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) =>
    guarded('changing', undefined, () => {
      const open = running?.session.document(uri);
      if (open === undefined) return;
      put(uri, `waywarden-${open.language}`, version, changed(open.text, contentChanges));
    }),
  );

  connection.onDidCloseTextDocument(({ textDocument: { uri } }) =>
    guarded('closing', undefined, () => {
      const open = running?.session.document(uri);
      if (running === undefined || open === undefined) return;
      running.session.close(uri);
      running.push?.clear(uri);
      if (open.language !== 'mission') news();
      else running.all?.changed();
    }),
  );

  connection.onDidChangeWatchedFiles(({ changes }) =>
    guarded('files that changed', undefined, () => {
      if (running === undefined) return;
      const { session } = running;
      // What is open beats the disk, so that saving it changes nothing.
      if (changes.every(({ uri }) => session.document(uri) !== undefined)) return;
      // No plan rests on another one.
      if (changes.every(({ uri }) => languageOf('', uri) === 'mission' && isMission(uri))) running.all?.changed();
      else {
        session.worldChanged();
        news();
      }
    }),
  );

  connection.languages.diagnostics.on(async ({ textDocument: { uri }, previousResultId }, token) => {
    if (running === undefined) return { kind: 'full', items: [] };
    return answerPull(
      running.session,
      uri,
      previousResultId,
      token,
      news,
      running.terms.opensPages ? pageOfRule : undefined,
    );
  });

  connection.languages.diagnostics.onWorkspace(async (params, token, _workDone, partly) => {
    if (running?.all === undefined) return { items: [] };
    return running.all.answer(params, token, partly);
  });

  /** The judgement of the text as it stands, for a request with places in it. */
  const current = async (uri: string, token: CancellationToken) => running?.session.current(uri, token);

  connection.onHover(({ textDocument: { uri }, position }, token) =>
    guarded('hover', null, async () => {
      const judgement = await current(uri, token);
      if (judgement === undefined) return null;
      const { text, lines } = judgement.document;
      const { showsMarkdown = true, showsPictures = false } = running?.terms ?? {};
      const pictures = showsMarkdown && showsPictures ? 'pictures' : 'words only';
      const hover = hoverAt(judgement, offsetAt(text, lines, position), pictures);
      if (hover === undefined) return null;
      const contents = !showsMarkdown
        ? { kind: MarkupKind.PlainText, value: plainOf(hover.markdown) }
        : { kind: MarkupKind.Markdown, value: hover.markdown };
      return { contents, range: hover.range };
    }),
  );

  connection.onCodeAction((params, token) =>
    guarded('quick fixes', [], async () => {
      const judgement = await current(params.textDocument.uri, token);
      if (judgement === undefined || running === undefined) return [];
      const { session, terms } = running;
      const mends = actionsFor(params, judgement, {
        versioned: terms.versionedEdits,
        uriOf: (location) => session.uriOf(location),
        versionOf: (uri) => session.document(uri)?.version ?? null,
      });
      const offers = await offersFor(params, judgement, {
        versioned: terms.versionedEdits,
        takesBlanks: terms.takesBlanks,
        rejudge: (text) => session.findingsWith(judgement.document, text, token),
      });
      return [...mends, ...offers];
    }),
  );

  connection.onDocumentSymbol(({ textDocument: { uri } }, token) =>
    guarded('outline', [], async () => {
      const judgement = await current(uri, token);
      return judgement === undefined ? [] : symbolsOf(judgement);
    }),
  );

  const desk: Desk = {
    connection,
    machine,
    running: () => running,
    guarded,
    document: (uri) => (running?.session.isLeftAlone(uri) === true ? undefined : running?.session.document(uri)),
    current,
  };
  serveWriting(desk);
  serveNavigation(desk);
  serveGlance(desk);
  serveView(desk);

  connection.listen();
};

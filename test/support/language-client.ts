import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import {
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type InitializeResult,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { inProject } from './project.ts';

/** A client with every ability that the server asks about. */
export const PULLS: ClientCapabilities = {
  textDocument: {
    diagnostic: { dynamicRegistration: false },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    publishDiagnostics: { relatedInformation: true },
  },
  workspace: { diagnostics: { refreshSupport: true }, workspaceEdit: { documentChanges: true } },
};

/** An older client: it is sent diagnostics, and shows plain text. */
export const IS_PUSHED: ClientCapabilities = {
  textDocument: { hover: { contentFormat: ['plaintext'] }, publishDiagnostics: {} },
  workspace: {},
};

/** A client that speaks the protocol to the server of `dist/`, for tests. */
export class LanguageClient {
  readonly connection: ProtocolConnection;
  readonly pushed: PublishDiagnosticsParams[] = [];
  readonly logged: string[] = [];
  refreshes = 0;
  readonly #end: () => Promise<void>;

  constructor(connection: ProtocolConnection, end: () => Promise<void>) {
    this.connection = connection;
    this.#end = end;
    connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      this.pushed.push(params);
    });
    connection.onNotification('window/logMessage', ({ message }: { readonly message: string }) => {
      this.logged.push(message);
    });
    connection.onRequest('workspace/diagnostic/refresh', () => {
      this.refreshes++;
      return null;
    });
    connection.onRequest('client/registerCapability', () => null);
    connection.listen();
  }

  async initialize(capabilities: ClientCapabilities, initializationOptions?: unknown): Promise<InitializeResult> {
    const result = await this.connection.sendRequest<InitializeResult>('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities,
      initializationOptions,
    });
    await this.connection.sendNotification('initialized', {});
    return result;
  }

  open(uri: string, text: string, languageId = 'waywarden-mission', version = 1): Promise<void> {
    return this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId, version, text },
    });
  }

  change(uri: string, text: string, version: number): Promise<void> {
    return this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ text }],
    });
  }

  close(uri: string): Promise<void> {
    return this.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  }

  report(uri: string, previousResultId?: string): Promise<DocumentDiagnosticReport> {
    return this.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri }, previousResultId });
  }

  /** What one pull answers, be it only that the review is still under way. */
  async pullOnce(uri: string): Promise<readonly Diagnostic[]> {
    const report = await this.report(uri);
    return report.kind === 'full' ? report.items : [];
  }

  /** Pulls until the review has ended, however slow the machine. */
  async pull(uri: string): Promise<readonly Diagnostic[]> {
    for (;;) {
      const found = await this.pullOnce(uri);
      if (!found.some(({ message }) => String(message).startsWith('not assessed yet'))) return found;
    }
  }

  /** Ends the server as the protocol has it. */
  async end(): Promise<void> {
    await this.connection.sendRequest('shutdown');
    await this.connection.sendNotification('exit');
    await this.#end();
    this.connection.dispose();
  }
}

/** Starts the built server as another editor would. Needs `npm run build` first. */
export const startServer = (environment: Readonly<Record<string, string>> = {}): LanguageClient => {
  const program = inProject('dist/server/node-main.mjs');
  if (!existsSync(program)) throw new Error(`${program} is missing: run "npm run build" first`);
  const child = spawn(process.execPath, [program, '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit'],
    env: { ...process.env, ...environment },
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  return new LanguageClient(connection, () => ended);
};

/** Waits for something that messages bring about. The test's own timeout ends a wait in vain. */
export const until = async <T>(look: () => T | undefined | false): Promise<T> => {
  for (;;) {
    const seen = look();
    if (seen !== undefined && seen !== false) return seen;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
};

import type { Connection } from 'vscode-languageserver';
import { diagnosticsOf } from './diagnostics.ts';
import type { Session } from './session.ts';

/** How long a typist has to rest before a client without pull is sent news. */
const REST_MS = 150;

/** Sends diagnostics to a client that cannot ask for them. A later text of a document replaces an earlier one's turn. */
export class Push {
  readonly #connection: Connection;
  readonly #session: Session;
  readonly #waiting = new Map<string, ReturnType<typeof setTimeout>>();

  constructor(connection: Connection, session: Session) {
    this.#connection = connection;
    this.#session = session;
  }

  soon(uri: string): void {
    clearTimeout(this.#waiting.get(uri));
    this.#waiting.set(
      uri,
      setTimeout(() => {
        this.#waiting.delete(uri);
        void this.#send(uri);
      }, REST_MS),
    );
  }

  all(): void {
    for (const { uri } of this.#session.documents) this.soon(uri);
  }

  /** A closed document shows nothing. */
  clear(uri: string): void {
    clearTimeout(this.#waiting.get(uri));
    this.#waiting.delete(uri);
    void this.#connection.sendDiagnostics({ uri, diagnostics: [] });
  }

  async #send(uri: string): Promise<void> {
    try {
      const judgement = await this.#session.current(uri);
      if (judgement === undefined) return;
      const diagnostics = [...diagnosticsOf(judgement, (at) => this.#session.uriOf(at))];
      await this.#connection.sendDiagnostics({ uri, version: judgement.document.version, diagnostics });
    } catch (error) {
      this.#connection.console.error(`diagnostics of ${uri}: ${error instanceof Error ? error.message : error}`);
    }
  }
}

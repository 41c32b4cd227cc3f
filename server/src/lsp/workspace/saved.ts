import type { CancellationToken, Diagnostic } from 'vscode-languageserver';
import { digestOf } from '../../text/digest.ts';
import { Lines } from '../../text/lines.ts';
import { diagnosticsOf } from '../diagnostics.ts';
import { languageOf } from '../documents.ts';
import type { Session } from '../session.ts';
import { Trees } from '../trees.ts';

/** What is shown of a document that is not open. */
export interface SavedReport {
  readonly uri: string;
  readonly resultId: string;
  readonly items: readonly Diagnostic[];
}

interface Kept {
  readonly key: string;
  readonly report: SavedReport;
}

/** What is said of "now" may be this old before it is said again. */
const STALE_MS = 10 * 60_000;

/** Judges documents that are not open, each once for every state of its file and of the world around it. */
export class SavedDocuments {
  readonly #session: Session;
  readonly #kept = new Map<string, Kept>();
  readonly #pageOf: ((rule: string) => string) | undefined;

  constructor(session: Session, pageOf: ((rule: string) => string) | undefined) {
    this.#session = session;
    this.#pageOf = pageOf;
  }

  /** Undefined where the file is gone, is no text that can be read whole, or where nobody wants the answer any more. */
  async report(location: string, token: CancellationToken): Promise<SavedReport | undefined> {
    const { files, edition } = this.#session;
    const uri = this.#session.uriOf(location);
    try {
      const found = await files.stat(location);
      if (found?.kind !== 'file') return undefined;
      const key = `${found.version} ${edition} ${Math.floor(performance.now() / STALE_MS)}`;
      const kept = this.#kept.get(location);
      if (kept?.key === key) return kept.report;
      const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(await files.read(location));
      const judgement = await this.#session.judgeSaved(
        {
          uri,
          location,
          language: languageOf('', location),
          version: 0,
          serial: 0,
          text,
          lines: new Lines(text),
          trees: new Trees(),
        },
        token,
      );
      if (judgement === undefined) return undefined;
      const items = diagnosticsOf(judgement, (at) => this.#session.uriOf(at), this.#pageOf);
      const report: SavedReport = { uri, items, resultId: digestOf([JSON.stringify(items)]) };
      this.#kept.set(location, { key, report });
      return report;
    } catch {
      // Gone since it was listed, or not to be read: there is nothing to show at a place in it.
      return undefined;
    }
  }
}

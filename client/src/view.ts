import { commands, type Disposable, Uri, ViewColumn, type WebviewPanel, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';

interface View {
  readonly html: string;
  readonly edition: number;
}

interface Shown {
  readonly panel: WebviewPanel;
  /** Of the page that is shown. */
  edition: number;
  asking: boolean;
  soon?: ReturnType<typeof setTimeout>;
  stale: boolean;
}

/** A typist comes first: the page follows once the text has been left alone for so long. */
const QUIET_MS = 300;

export interface Flights {
  readonly own: readonly Disposable[];
  /** To be told of each judgement of a document. */
  judged(uri: string): void;
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';

const nonce = (): string =>
  [...crypto.getRandomValues(new Uint8Array(32))].map((byte) => LETTERS[byte % LETTERS.length]).join('');

/** Pages of flights beside their texts. The server writes them; they are asked for anew after each judgement. */
export const showFlights = (client: BaseLanguageClient): Flights => {
  const open = new Map<string, Shown>();

  const refresh = async (uri: string, shown: Shown): Promise<void> => {
    shown.stale = true;
    // What nobody looks at waits until it is looked at.
    if (shown.asking || !shown.panel.visible) return;
    shown.asking = true;
    try {
      while (shown.stale && open.get(uri) === shown) {
        shown.stale = false;
        const view = await client.sendRequest<View | null>('waywarden/view', { uri, nonce: nonce() });
        if (view === null || view.edition < shown.edition || open.get(uri) !== shown) continue;
        shown.edition = view.edition;
        shown.panel.webview.html = view.html;
      }
    } finally {
      shown.asking = false;
    }
  };

  const show = async (given: unknown): Promise<void> => {
    const at = given instanceof Uri ? given : window.activeTextEditor?.document.uri;
    if (at === undefined) return;
    const uri = client.code2ProtocolConverter.asUri(at);
    const known = open.get(uri);
    if (known !== undefined) {
      known.panel.reveal(undefined, true);
      return;
    }
    const name = at.path.slice(at.path.lastIndexOf('/') + 1);
    const panel = window.createWebviewPanel(
      'waywarden.flight',
      `Flight: ${name}`,
      { viewColumn: ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true, enableFindWidget: true, localResourceRoots: [] },
    );
    const shown: Shown = { panel, edition: -1, asking: false, stale: false };
    open.set(uri, shown);
    panel.onDidDispose(() => {
      clearTimeout(shown.soon);
      open.delete(uri);
    });
    panel.onDidChangeViewState(() => {
      if (shown.stale) void refresh(uri, shown);
    });
    await refresh(uri, shown);
  };

  return {
    own: [
      commands.registerCommand('waywarden.showFlight', show),
      {
        dispose: () => {
          for (const { panel } of [...open.values()]) panel.dispose();
        },
      },
    ],
    judged: (uri) => {
      const shown = open.get(uri);
      if (shown === undefined) return;
      shown.stale = true;
      clearTimeout(shown.soon);
      shown.soon = setTimeout(() => void refresh(uri, shown), QUIET_MS);
    },
  };
};

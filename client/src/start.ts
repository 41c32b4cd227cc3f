import {
  commands,
  type Disposable,
  type ExtensionContext,
  FileSystemError,
  FileType,
  Uri,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { pastePositions } from './paste.ts';
import { showStanding } from './standing.ts';
import { showFlights } from './view.ts';

/** Any scheme: a plan may lie on a disk, in a virtual file system, or nowhere yet. */
const documentSelector = ['waywarden-mission', 'waywarden-aircraft', 'waywarden-settings', 'waywarden-mapping'].map(
  (language) => ({
    language,
  }),
);

/** What this machine grants. The setting is machine-scoped, so that no repository can set it. */
const grants = (): { readonly dataFolders: readonly string[]; readonly restricted: boolean } => ({
  dataFolders: workspace.getConfiguration('waywarden').get<string[]>('dataFolders', []),
  restricted: !workspace.isTrusted,
});

const allPlans = (): boolean => workspace.getConfiguration('waywarden').get('allPlans', true);

/** Documents whose judgement is under way; where the server ends then, the next one leaves them alone until they change. */
const judging = new Set<string>();

/** Each server is told once at which documents the one before it ended. */
const takeSuspects = (): readonly string[] => {
  const suspects = [...judging];
  judging.clear();
  return suspects;
};

export const clientOptions: LanguageClientOptions = {
  documentSelector,
  initializationOptions: () => ({
    files: true,
    commands: true,
    status: true,
    pictures: true,
    allPlans: allPlans(),
    suspects: takeSuspects(),
    ...grants(),
  }),
  // A server that keeps ending is not started for ever.
  connectionOptions: { maxRestartCount: 4 },
  // Without `onChange` findings would stay as they were until the file is saved.
  diagnosticPullOptions: { onChange: true, onSave: true, onFocus: true },
};

interface FileRequest {
  readonly uri: string;
}

const stat = async ({ uri }: FileRequest): Promise<unknown> => {
  try {
    const { type, size, mtime } = await workspace.fs.stat(Uri.parse(uri));
    return { kind: (type & FileType.Directory) === 0 ? 'file' : 'folder', size, modified: mtime };
  } catch (error) {
    if (error instanceof FileSystemError && error.code === 'FileNotFound') return null;
    throw error;
  }
};

const list = async ({ uri }: FileRequest): Promise<unknown> => {
  const entries = await workspace.fs.readDirectory(Uri.parse(uri));
  return { names: entries.map(([name]) => name) };
};

const SAMPLES = ['first.mission.yaml', 'missions/many-faults.mission.yaml', 'missions/over-the-gap.mission.yaml'];

/** Opens one of the samples that come with the extension, as the walkthrough asks, or as a person picks. */
const openSample = async ({ extensionUri }: ExtensionContext, asked: unknown): Promise<void> => {
  const name =
    SAMPLES.find((each) => each === asked) ?? (await window.showQuickPick(SAMPLES, { title: 'Sample plan' }));
  if (name !== undefined) await window.showTextDocument(Uri.joinPath(extensionUri, 'samples', name));
};

/** Answers the server's requests for files, starts it, and tells it when what is granted changes. */
export const startClient = async (
  client: BaseLanguageClient,
  context: ExtensionContext,
  pack: (bytes: Uint8Array) => unknown,
): Promise<void> => {
  const tell = (): void => {
    void client.sendNotification('waywarden/grantsChanged', grants());
  };
  const flights = showFlights(client);
  const own: Disposable[] = [
    commands.registerCommand('waywarden.openSample', (name: unknown) => openSample(context, name)),
    ...flights.own,
    pastePositions(client, [{ language: 'waywarden-mission' }]),
    ...showStanding(client, [{ language: 'waywarden-mission' }]),
    client.onNotification('waywarden/judging', ({ uri, ended }: { readonly uri: string; readonly ended: boolean }) => {
      if (!ended) judging.add(uri);
      else {
        judging.delete(uri);
        flights.judged(uri);
      }
    }),
    client.onRequest('waywarden/readFile', async ({ uri }: FileRequest) =>
      pack(await workspace.fs.readFile(Uri.parse(uri))),
    ),
    client.onRequest('waywarden/stat', stat),
    client.onRequest('waywarden/list', list),
    workspace.onDidGrantWorkspaceTrust(tell),
    workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration('waywarden.dataFolders')) tell();
    }),
  ];
  context.subscriptions.push(...own);
  await client.start();
};

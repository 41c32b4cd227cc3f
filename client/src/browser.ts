import { type ExtensionContext, Uri, workspace } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { clientOptions, startClient } from './start.ts';

let client: LanguageClient | undefined;

const makeWorker = async (context: ExtensionContext): Promise<Worker> => {
  const file = Uri.joinPath(context.extensionUri, 'dist', 'server', 'worker-main.js');
  if (file.scheme !== 'vscode-remote') return new Worker(file.toString(true));
  // The editor refuses a worker whose script lies on a remote machine; a blob of the same bytes is allowed.
  const bytes = await workspace.fs.readFile(file);
  return new Worker(URL.createObjectURL(new Blob([bytes.slice()], { type: 'text/javascript' })));
};

export const activate = async (context: ExtensionContext): Promise<void> => {
  client = new LanguageClient('waywarden', 'Waywarden', await makeWorker(context), clientOptions);
  await startClient(client, context, (bytes) => ({ bytes }));
};

export const deactivate = (): Promise<void> | undefined => client?.stop();

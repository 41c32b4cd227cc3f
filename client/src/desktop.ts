import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { clientOptions, startClient } from './start.ts';

let client: LanguageClient | undefined;

export const activate = async (context: ExtensionContext): Promise<void> => {
  const run = { module: context.asAbsolutePath('dist/server/node-main.mjs'), transport: TransportKind.ipc };
  const debug = { ...run, options: { execArgv: ['--nolazy', '--inspect=6127'] } };
  client = new LanguageClient('waywarden', 'Waywarden', { run, debug }, clientOptions);
  // Between processes messages travel as JSON, which holds no bytes.
  await startClient(client, context, (bytes) => ({ base64: Buffer.from(bytes).toString('base64') }));
};

export const deactivate = (): Promise<void> | undefined => client?.stop();

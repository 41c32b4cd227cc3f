import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { expect, test } from 'vitest';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node';
import { LanguageClient, PULLS } from '../support/language-client.ts';
import { inProject } from '../support/project.ts';
import { planAt } from './lake.ts';

test('"waywarden serve --stdio" serves any client, and ends when the client says so', async () => {
  const program = inProject('dist/server/waywarden.mjs');
  if (!existsSync(program)) throw new Error(`${program} is missing: run "npm run build" first`);
  const child = spawn(process.execPath, [program, 'serve', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const code = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const client = new LanguageClient(connection, async () => {
    await code;
  });
  await client.initialize(PULLS);
  await client.open('file:///nowhere/a.mission.yaml', planAt('60'));
  const found = await client.pull('file:///nowhere/a.mission.yaml');
  expect(found.map((diagnostic) => diagnostic.code)).toContain('number-without-unit');
  await client.end();
  expect(await code).toBe(0);
});

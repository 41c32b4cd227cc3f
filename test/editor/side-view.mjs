// The flight beside its text in a real VS Code: opened by keyboard, follows the text, readable in every theme, keeps to its
// policy; and the picture in a hover.
// usage: [EDITOR_DIR=.editor] [VSIX=waywarden.vsix] node test/editor/side-view.mjs [OUT_DIR]
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import * as path from 'node:path';
import { launchBrowser, startEditor, watch } from './editor.mjs';

const out = path.resolve(process.argv[2] ?? 'build/editor-side-view');
const editor = await startEditor({ out, vsix: process.env.VSIX ?? 'waywarden.vsix' });
const folder = path.join(out, 'ws');
fs.cpSync('samples', folder, { recursive: true });

const browser = await launchBrowser();
const page = await browser.newPage({ viewport: { width: 1500, height: 900 } });
page.setDefaultTimeout(60_000);
const { outside } = watch(page, out);
const refused = [];
page.on('console', (message) => {
  if (
    /Content Security Policy/i.test(message.text()) &&
    /waywarden|style-src 'nonce|script-src 'nonce/.test(message.text())
  )
    refused.push(message.text());
});
let pictures = 0;
const picture = (name) => page.screenshot({ path: path.join(out, `${++pictures}-${name}.png`) });

const run = async (command) => {
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input').fill(`>${command}`);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: command }).first().waitFor();
  await page.keyboard.press('Enter');
};

try {
  await page.goto(`${editor.url}/?folder=${encodeURIComponent(folder)}`);
  await page.getByRole('treeitem', { name: 'first.mission.yaml' }).dblclick();
  const code = page.locator('.monaco-editor[data-uri$="/first.mission.yaml"]');
  await code.locator('.view-line', { hasText: 'reed-west' }).waitFor();

  // The lines above the title tell that the plan has been judged.
  await page.locator('.codelens-decoration').first().waitFor();

  // A hover with its picture.
  await code.locator('.view-line span span', { hasText: 'reed-west' }).first().hover();
  const shown = page.locator('.monaco-hover:visible img[src^="data:image/svg+xml"]');
  await shown.waitFor();
  assert.equal(await shown.evaluate((image) => image.naturalWidth), 480);
  await shown.scrollIntoViewIfNeeded();
  await picture('hover-with-picture');
  await page.keyboard.press('Escape');

  // The page beside, by keyboard.
  await code.locator('.view-line', { hasText: 'title' }).click();
  await run('Waywarden: Show the Flight');
  const flight = page.frameLocator('iframe.webview').frameLocator('#active-frame');
  await flight.getByRole('heading', { name: 'Reed bed, south shore' }).waitFor();
  assert.ok(await flight.getByRole('img', { name: /Height along the flight/ }).count());
  const standing = await flight.locator('.standing').textContent();
  await picture('beside');

  // It follows the text: a point far too high is a stop, in words and on the picture.
  await code.locator('.view-line', { hasText: 'altitude' }).first().click();
  await page.keyboard.press('End');
  for (let i = 0; i < 'm AGL'.length + 3; i++) await page.keyboard.press('Backspace');
  await page.keyboard.type('150 m AGL');
  await flight
    .locator('svg text', { hasText: /stop \d/ })
    .first()
    .waitFor();
  assert.notEqual(await flight.locator('.standing').textContent(), standing);
  await picture('follows-the-text');

  // By keyboard inside: the first stop is a link to a part of the page, which comes into view.
  await flight.locator('nav a').first().focus();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await flight.getByRole('heading', { name: 'Map', exact: true }).waitFor();

  // It takes over the theme of the editor, whatever that is. High contrast is tested with its variables alone.
  const colours = () =>
    flight.locator('body').evaluate((body) => {
      const { color, backgroundColor } = getComputedStyle(body);
      return { ink: color, paper: backgroundColor };
    });
  const light = await colours();
  await code.locator('.view-line', { hasText: '150 m' }).first().click();
  await run('Preferences: Toggle between Light/Dark Themes');
  await flight.locator('body.vscode-dark').waitFor();
  const dark = await colours();
  assert.notEqual(light.paper, dark.paper);
  assert.notEqual(light.ink, dark.ink);
  await picture('dark');
  assert.deepEqual(refused, []);
  assert.deepEqual(outside, []);
  console.log('the side view was walked through');
} catch (error) {
  await picture('failure');
  throw error;
} finally {
  await browser.close();
  await editor.stop();
}

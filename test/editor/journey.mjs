// A pilot's way through a real VS Code: open a plan, see what is underlined, read why, mend it, see it gone.
// usage: [EDITOR_DIR=.editor] [HOST=node|web] node test/editor/journey.mjs [OUT_DIR]
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import * as path from 'node:path';
import { launchBrowser, startEditor, watch } from './editor.mjs';

const host = process.env.HOST ?? 'node';
const out = path.resolve(process.argv[2] ?? `build/editor-${host}`);
const settings = host === 'web' ? { 'remote.extensionKind': { 'waywarden.waywarden': ['web'] } } : {};
const editor = await startEditor({ out, vsix: 'waywarden.vsix', settings });

const folder = path.join(out, 'ws');
fs.cpSync('samples', folder, { recursive: true });
const sound = fs.readFileSync(path.join(folder, 'first.mission.yaml'), 'utf8');
const slip = sound.replace('altitude: 60 m AGL', 'altitude: 60');
assert.notEqual(slip, sound);
const slipFile = path.join(folder, 'slip.mission.yaml');
fs.writeFileSync(slipFile, slip);

const browser = await launchBrowser();
const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
page.setDefaultTimeout(60_000);
const { outside } = watch(page, out);
let pictures = 0;
const picture = (name) => page.screenshot({ path: path.join(out, `${++pictures}-${name}.png`) });

const open = async (name) => {
  await page.keyboard.press('Control+p');
  await page.locator('.quick-input-widget input').fill(name);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: name }).first().waitFor();
  await page.keyboard.press('Enter');
  const code = page.locator(`.monaco-editor[data-uri$="/${name}"]`);
  await code.waitFor();
  return code;
};
const word = (code, text) => code.locator('.view-line span span', { hasText: text }).first();
const hoverOver = async (place, text) => {
  await place.hover();
  const hover = page.locator('.monaco-hover:visible', { hasText: text }).first();
  await hover.waitFor();
  return hover;
};
const leave = async () => {
  await page.keyboard.press('Escape');
  await page.mouse.move(1000, 700);
};
const mend = async (place, title) => {
  await place.click();
  await page.keyboard.press('Control+.');
  await page.locator('.action-widget', { hasText: title }).waitFor();
};

try {
  await page.goto(`${editor.url}/?folder=${encodeURIComponent(folder)}`);
  await page.getByRole('treeitem', { name: 'slip.mission.yaml' }).waitFor();

  // A bare number: underlined, explained, mended, gone, and nothing saved.
  let code = await open('slip.mission.yaml');
  await code.locator('.squiggly-error').first().waitFor();
  await picture('slip-underlined');
  const bare = word(code, /^60$/);
  const why = await hoverOver(bare, 'a number has no unit');
  assert.match(await why.textContent(), /a number without a unit/);
  await picture('slip-hover');
  await leave();
  await mend(bare, 'Write "60 m AGL"');
  await picture('slip-quick-fixes');
  await page.keyboard.press('Enter');
  await code.locator('.squiggly-error').first().waitFor({ state: 'detached' });
  await code.locator('.view-line', { hasText: 'altitude: 60 m AGL' }).nth(1).waitFor();
  assert.equal(fs.readFileSync(slipFile, 'utf8'), slip);
  await picture('slip-mended');
  const fact = await hoverOver(word(code, 'reed-west'), 'above take-off');
  assert.match(await fact.textContent(), /above mean sea level/);
  await picture('item-hover');
  await leave();

  // Typing: what becomes wrong is underlined, what is undone is not, and nothing stays behind.
  await word(code, 'AGL').first().click();
  await page.keyboard.press('End');
  await page.keyboard.type('LLL quickly typed', { delay: 20 });
  await code.locator('.squiggly-error').first().waitFor();
  for (let i = 0; i < 'LLL quickly typed'.length; i++) await page.keyboard.press('Backspace');
  await code.locator('.squiggly-error').first().waitFor({ state: 'detached' });

  // Ground that falls away between two sound points: the leg is what is underlined.
  code = await open('over-the-gap.mission.yaml');
  await code.locator('.squiggly-error').first().waitFor();
  const leg = word(code, 'little-hob');
  const found = await hoverOver(leg, 'a leg rises above the height limit');
  assert.match(await found.textContent(), /121\.92 m \(400 ft\)/);
  await picture('leg-hover');
  await leave();
  await mend(leg, 'Put 1 point');
  await picture('leg-quick-fixes');
  await page.keyboard.press('Enter');
  await code.locator('.squiggly-error').first().waitFor({ state: 'detached' });
  await picture('leg-mended');

  code = await open('many-faults.mission.yaml');
  await code.locator('.squiggly-error').nth(3).waitFor();
  await page.keyboard.press('Control+Shift+m');
  await page.locator('.markers-panel .monaco-list-row').nth(5).waitFor();
  await picture('many-faults');

  assert.deepEqual(outside, []);
  console.log(`the journey went through (${host} extension host); pictures in ${path.relative('.', out)}`);
} catch (error) {
  await picture('failure');
  throw error;
} finally {
  await browser.close();
  await editor.stop();
}

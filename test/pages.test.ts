import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { judged } from '../server/src/cli/judged.ts';
import { diskFiles } from '../server/src/host/disk.ts';
import { worldCache } from '../server/src/host/load-world.ts';
import { prepare } from '../server/src/host/prepare.ts';
import { flightView } from '../server/src/pictures/view-page.ts';
import { call, EVENING, EVENING_BEFORE } from './support/command-line.ts';
import { inProject } from './support/project.ts';

const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium';
/** Kept as build output, to be looked at. */
const OUT = inProject('build/pages');

type Browser = Awaited<ReturnType<typeof chromium.launch>>;

/** What a theme of the editor sets; foreground and background as its own light, dark and high contrast ones have them. */
const THEMES = {
  light: { background: '#ffffff', foreground: '#3b3b3b', border: '#e5e5e5', error: '#f85149' },
  dark: { background: '#1f1f1f', foreground: '#cccccc', border: '#2b2b2b', error: '#f85149' },
  'high-contrast': { background: '#000000', foreground: '#ffffff', border: '#6fc3df', error: '#ff8080' },
} as const;

describe.skipIf(!existsSync(CHROMIUM))(`pages in a browser (skipped where ${CHROMIUM} is absent)`, () => {
  let browser: Browser;
  beforeAll(async () => {
    mkdirSync(OUT, { recursive: true });
    browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
  });
  afterAll(async () => {
    await browser.close();
  });

  test.each(['first', 'missions/many-faults', 'missions/reed-photos', 'missions/weir-eu'])(
    'the brief of %s fits a desktop, a phone and paper, without a script and without asking for anything',
    async (sample) => {
      const name = sample.replace('missions/', '');
      const file = join(OUT, `brief-${name}.html`);
      expect(
        (await call(['brief', inProject(`samples/${sample}.mission.yaml`), '--out', file, '--now', EVENING])).code,
      ).toBe(0);
      const context = await browser.newContext({ javaScriptEnabled: true, offline: true });
      const page = await context.newPage();
      const asked: string[] = [];
      const said: string[] = [];
      page.on('request', (request) => asked.push(request.url()));
      page.on('console', (message) => said.push(message.text()));
      for (const [size, width, height] of [
        ['desktop', 1200, 900],
        ['phone', 390, 844],
      ] as const) {
        await page.setViewportSize({ width, height });
        await page.goto(pathToFileURL(file).href);
        await page.screenshot({ path: join(OUT, `brief-${name}-${size}.png`), fullPage: true });
        const over = await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
        expect([size, over]).toEqual([size, 0]);
      }
      for (const format of ['A4', 'Letter'] as const) {
        const pdf = await page.pdf({ path: join(OUT, `brief-${name}-${format}.pdf`), format });
        expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      }
      // On paper nothing is cut off at the right: each table fits its sheet (Letter is 8.5 in, less the margins).
      await page.emulateMedia({ media: 'print' });
      await page.setViewportSize({ width: 718, height: 1000 });
      await page.screenshot({ path: join(OUT, `brief-${name}-paper.png`), fullPage: true });
      const wide = await page.evaluate(
        "[...document.querySelectorAll('table')].filter((table) => table.getBoundingClientRect().right > 718.5).map((table) => table.caption.textContent)",
      );
      expect(wide).toEqual([]);
      expect(said).toEqual([]);
      expect(new Set(asked.map((address) => new URL(address).protocol))).toEqual(new Set(['file:']));
      await context.close();
    },
    60_000,
  );

  test('labels of the pictures do not lie on each other', async () => {
    const file = join(OUT, 'brief-many-faults.html');
    const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
    await page.goto(pathToFileURL(file).href);
    const met = await page.evaluate(`[...document.querySelectorAll('figure svg')].flatMap((svg) => {
      const boxes = [...svg.querySelectorAll('text')].map((text) => ({ said: text.textContent, box: text.getBoundingClientRect() }));
      return boxes.flatMap((one, i) => boxes.slice(i + 1)
        .filter((other) => one.box.left < other.box.right - 1 && other.box.left < one.box.right - 1 && one.box.top < other.box.bottom - 3 && other.box.top < one.box.bottom - 3)
        .map((other) => one.said + ' / ' + other.said));
    })`);
    expect(met).toEqual([]);
    await page.close();
  });

  test.each(Object.entries(THEMES))(
    'the side view is readable in a %s theme, and its own script keeps the place',
    async (theme, colours) => {
      const plan = inProject('samples/missions/many-faults.mission.yaml');
      const host = { files: diskFiles(), dataFolders: [], restricted: false, cache: worldCache() };
      const { input } = await prepare(readFileSync(plan, 'utf8'), plan, host, EVENING_BEFORE);
      const { review, tools } = judged(input);
      if (tools === undefined) throw new Error('a review left no tools');
      const file = join(OUT, `view-${theme}.html`);
      writeFileSync(file, flightView(review, tools, 'abcdefgh12345678'));
      const page = await browser.newPage({ viewport: { width: 640, height: 900 } });
      const errors: string[] = [];
      page.on('console', (message) => errors.push(message.text()));
      page.on('pageerror', (error) => errors.push(error.message));
      // As the editor does: its variables on the root, and its way to keep a state.
      await page.addInitScript(`
      window.kept = { y: 120 };
      window.acquireVsCodeApi = () => ({ getState: () => window.kept, setState: (state) => { window.kept = state; } });
      new MutationObserver((_, watcher) => {
        if (document.documentElement === null) return;
        watcher.disconnect();
        const set = (name, value) => document.documentElement.style.setProperty('--vscode-' + name, value);
        set('editor-background', '${colours.background}');
        set('editor-foreground', '${colours.foreground}');
        set('panel-border', '${colours.border}');
        set('editorError-foreground', '${colours.error}');
        ${theme === 'high-contrast' ? `set('contrastBorder', '${colours.border}');` : ''}
      }).observe(document, { childList: true });`);
      await page.goto(pathToFileURL(file).href);
      expect(await page.evaluate('scrollY')).toBe(120);
      await page.screenshot({ path: join(OUT, `view-${theme}.png`), fullPage: true });
      const drawn = await page.evaluate(`(() => {
      const of = (selector, name) => getComputedStyle(document.querySelector(selector))[name];
      return { paper: of('body', 'backgroundColor'), ink: of('svg text', 'fill'), halo: of('svg .halo', 'stroke'), breach: of('svg .breach', 'fill') };
    })()`);
      const rgb = (hex: string): string =>
        `rgb(${[1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)).join(', ')})`;
      expect(drawn).toEqual({
        paper: rgb(colours.background),
        ink: rgb(colours.foreground),
        halo: rgb(colours.background),
        breach: rgb(colours.error),
      });
      // By keyboard: the first stop is a link to a part of the page.
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.getAttribute("href")')).toBe('#found');
      expect(errors).toEqual([]);
      await page.close();
    },
    60_000,
  );
});

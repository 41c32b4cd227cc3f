import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Hover } from 'vscode-languageserver-protocol';
import { validateXML } from 'xmllint-wasm';
import { type LanguageClient, startServer } from '../support/language-client.ts';
import { withoutEntities } from '../support/markup.ts';
import { makeLake, planAt } from './lake.ts';

const NONCE = 'abcdefgh12345678';

interface View {
  readonly html: string;
  readonly edition: number;
}

const lake = makeLake();
const uri = lake.uri('a.mission.yaml');

const view = (client: LanguageClient, at = uri, nonce = NONCE): Promise<View | null> =>
  client.connection.sendRequest<View | null>('waywarden/view', { uri: at, nonce });

const hoverOn = async (client: LanguageClient, text: string, word: string): Promise<string> => {
  const before = text.slice(0, text.indexOf(word));
  const line = before.split('\n').length - 1;
  const character = before.length - before.lastIndexOf('\n') - 1;
  const hover = await client.connection.sendRequest<Hover | null>('textDocument/hover', {
    textDocument: { uri },
    position: { line, character },
  });
  const contents: unknown = hover?.contents;
  return typeof contents === 'object' && contents !== null ? String(Reflect.get(contents, 'value')) : '';
};

let ours: LanguageClient;
let other: LanguageClient;
beforeAll(async () => {
  ours = startServer();
  other = startServer();
  await ours.initialize({ textDocument: { hover: { contentFormat: ['markdown'] } } }, { pictures: true });
  await other.initialize({ textDocument: { hover: { contentFormat: ['markdown'] } } });
});
afterAll(async () => {
  await Promise.all([ours.end(), other.end()]);
  lake.remove();
});

describe('the flight beside its text', () => {
  test('is a page in the colours of the editor, with a policy that lets in nothing but its own style and script', async () => {
    await ours.open(uri, planAt('60 m AGL'));
    const first = await view(ours);
    expect(first?.html).toContain(
      `<meta http-equiv="Content-Security-Policy" content="default-src &apos;none&apos;; style-src &apos;nonce-${NONCE}&apos;; script-src &apos;nonce-${NONCE}&apos;"/>`,
    );
    expect(first?.html).toContain('var(--vscode-editor-background');
    expect([...(first?.html ?? '').matchAll(/<(?:style|script)\b[^>]*>/g)].map(([tag]) => tag)).toEqual([
      `<style nonce="${NONCE}">`,
      `<script nonce="${NONCE}">`,
    ]);
    // The policy forbids style and handlers on elements.
    expect(first?.html).not.toMatch(/<[a-z][^>]*\s(?:style|on\w+)=/i);
    for (const part of [
      '>Map of the flight</title>',
      '>Height along the flight</title>',
      '<caption>Route of the flight</caption>',
    ])
      expect(first?.html).toContain(part);
  });

  test('follows the text, and shows a breach by word', async () => {
    const before = await view(ours);
    await ours.change(uri, planAt('130 m AGL'), 2);
    const after = await view(ours);
    expect(after?.edition).toBeGreaterThan(before?.edition ?? Number.POSITIVE_INFINITY);
    expect(after?.html).toMatch(/<text [^>]*>stop 1<\/text>/);
    expect(after?.html).toContain('130 m above ground');
  });

  test('its links lead to parts of it', async () => {
    const html = (await view(ours))?.html ?? '';
    const targets = [...html.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(targets.length).toBeGreaterThan(3);
    for (const id of targets) expect(html).toContain(` id="${id}"`);
    expect(html).not.toMatch(/href="(?!#)/);
  });

  test('a document that is no plan, one that is not open and a wrong nonce', async () => {
    const aircraft = lake.uri('b.aircraft.yaml');
    await ours.open(aircraft, 'aircraft: 1\n', 'waywarden-aircraft');
    expect((await view(ours, aircraft))?.html).toContain('This document is no plan');
    expect(await view(ours, 'file:///gone.mission.yaml')).toBeNull();
    expect(await view(ours, uri, "x'; script-src *")).toBeNull();
  });

  test('half a plan has a page that says what is lacking', async () => {
    await ours.change(uri, planAt('60 m AGL').slice(0, 900), 3);
    expect((await view(ours))?.html).toMatch(/<h2 id="gaps">What was not assessed<\/h2>/);
    await ours.change(uri, '', 4);
    expect((await view(ours))?.html).toContain('No map: no position of the route is known.');
  });
});

describe('the hover of an item', () => {
  const text = planAt('130 m AGL');

  test('tells arrival, energy, the way home, who sees it and its margins, in words', async () => {
    await other.open(uri, text);
    const said = (await hoverOn(other, text, 'east-bank')).replaceAll('\\', '');
    for (const part of [
      'Arrives by the clock: 12:4',
      'After take-off: ',
      'Seen on the way: the pilot all of it',
      'Energy left there: ',
      'Way home: home, 151 m: takes ',
      'above take-off, 130 m (426.5 ft) above ground, 530 m (1738.8 ft) above mean sea level',
    ])
      expect(said).toContain(part);
    expect(said).toMatch(/Margin: .*limit .*set by /);
  });

  test('has a picture only where the client shows pictures, bounded, and well-formed once it is read', async () => {
    expect(await hoverOn(other, text, 'east-bank')).not.toContain('data:image');
    await ours.change(uri, text, 5);
    const said = await hoverOn(ours, text, 'east-bank');
    const address = /!\[[^\]]*\]\(data:image\/svg\+xml;utf8,([^)]*)\)/.exec(said)?.[1] ?? '';
    expect(address.length).toBeGreaterThan(1000);
    expect(said.length).toBeLessThan(90_000);
    expect(address).toMatch(/^[A-Za-z0-9\-_.~%]*$/);
    const svg = decodeURIComponent(address);
    const { valid, rawOutput } = await validateXML({
      xml: [{ fileName: 'a.svg', contents: svg }],
      normalization: 'format',
    });
    expect([valid, rawOutput.slice(0, 200)]).toEqual([true, expect.any(String)]);
    const words = withoutEntities(svg);
    for (const part of ['stop 1', 'ground', 'flight', 'limit 121.92 m (400 ft) above the ground'])
      expect(words).toContain(`>${part}</text>`);
  });
});

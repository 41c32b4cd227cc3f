import { writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { ClientCapabilities, CodeAction } from 'vscode-languageserver/node';
import { changed } from '../../server/src/lsp/documents.ts';
import { type LanguageClient, PULLS, startServer } from '../support/language-client.ts';
import { day, FLIGHT_DAY, makeLake, planAt } from './lake.ts';

const TOWER = JSON.stringify({
  type: 'FeatureCollection',
  edition: 'made up',
  retrieved: `${day(-2)}T08:00:00Z`,
  covers: [-121, 47, -120, 48],
  features: [
    {
      type: 'Feature',
      properties: {
        id: 'ctr-lake',
        name: 'Lake tower',
        kind: 'controlled',
        class: 'D',
        floor: 'surface',
        ceiling: '3000 ft AMSL',
        radius: '50 m',
      },
      geometry: { type: 'Point', coordinates: [-120.498, 47.5] },
    },
  ],
});

let lake: ReturnType<typeof makeLake>;
let uri: string;
let client: LanguageClient;

beforeAll(() => {
  lake = makeLake();
  uri = lake.uri('survey.mission.yaml');
  writeFileSync(lake.path('tower.geojson'), TOWER);
});
afterAll(() => lake.remove());
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
});

const BLANKS = {
  ...PULLS,
  workspace: { ...PULLS.workspace, workspaceEdit: { documentChanges: true, snippetEditSupport: true } },
};

const begin = async (text: string, capabilities: ClientCapabilities = BLANKS): Promise<void> => {
  client = startServer();
  await client.initialize(capabilities);
  await client.open(uri, text);
};

const placeOf = (text: string, piece: string) => {
  const lines = text.slice(0, text.indexOf(piece)).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
};

const offered = async (text: string, piece: string, triggerKind: 1 | 2 = 1): Promise<readonly CodeAction[]> => {
  const start = placeOf(text, piece);
  return client.connection.sendRequest('textDocument/codeAction', {
    textDocument: { uri },
    range: { start, end: start },
    context: { diagnostics: await client.pull(uri), triggerKind },
  });
};

const offer = async (text: string, piece: string, title: string): Promise<CodeAction> => {
  const all = await offered(text, piece);
  const found = all.find((action) => action.title.startsWith(title));
  if (found === undefined)
    throw new Error(`not offered: ${title}; offered: ${all.map((each) => each.title).join(' | ')}`);
  return found;
};

const LEAD = /^ */;
/** The text after an action, with its blanks filled by `fill`, as an editor with snippets puts it in. */
const applying = (text: string, { edit }: CodeAction, fill: (blank: string) => string = () => 'X'): string => {
  const [change] = edit?.documentChanges ?? [];
  if (change === undefined || !('edits' in change)) throw new Error('no versioned edit');
  const lines = text.split('\n');
  const edits = change.edits.map((each) => {
    if ('newText' in each) return { range: each.range, text: each.newText };
    const lead = LEAD.exec(lines[each.range.start.line] ?? '')?.[0] ?? '';
    const value = each.snippet.value.replace(
      /\$\{(\d+)(?:\|([^,|]*)[^}]*|:([^}]*))?\}/g,
      (_all, number: string, first?: string, old?: string) => first ?? old ?? fill(number),
    );
    return { range: each.range, text: value.replaceAll('\n', `\n${lead}`) };
  });
  return changed(
    text,
    edits.toSorted(
      (one, other) =>
        other.range.start.line - one.range.start.line || other.range.start.character - one.range.start.character,
    ),
  );
};

// Some 530 m from the pilot: farther than an aircraft of this size is seen well.
const FAR = planAt('60 m AGL').replace('47.5, -120.498', '47.5, -120.493');

describe('accept with a reason', () => {
  test('stands on the item that is concerned, with the value found as a ceiling and the cursor at the reason', async () => {
    await begin(FAR);
    const action = await offer(FAR, 'east-bank', 'Accept seen-beyond-guidance-range here, with a reason (found: ');
    expect(action.isPreferred).toBeUndefined();
    const text = applying(FAR, action, () => 'over water, nothing in between');
    expect(text).toMatch(
      /- point: east-bank\n {4}accepts: \[\{ rule: seen-beyond-guidance-range, because: "over water, nothing in between", up-to: [\d.]+ m, until: [\d-]+ \}\]\n {4}at:/,
    );
    await client.change(uri, text, 2);
    expect((await client.pull(uri)).map(({ code }) => code)).not.toContain('seen-beyond-guidance-range');
  });

  test('a reason that is not given leaves a finding: nothing is accepted by a key alone', async () => {
    await begin(FAR);
    const text = applying(FAR, await offer(FAR, 'east-bank', 'Accept seen-beyond'), () => '');
    await client.change(uri, text, 2);
    const codes = (await client.pull(uri)).map(({ code }) => code);
    expect(codes).toContain('seen-beyond-guidance-range');
    expect(codes).toContain('acceptance-without-reason');
  });

  test.each([
    ['a list in brackets', '    accepts: [{ rule: guy-wires-near, because: none there }]\n'],
    ['a list of lines', '    accepts:\n      - rule: guy-wires-near\n        because: none there\n'],
  ])('is put into %s that is there already', async (_name, accepts) => {
    const text = FAR.replace('    altitude', `${accepts}    altitude`);
    await begin(text);
    const mended = applying(text, await offer(text, 'east-bank', 'Accept seen-beyond'));
    await client.change(uri, mended, 2);
    const codes = (await client.pull(uri)).map(({ code }) => code);
    expect(codes).not.toContain('seen-beyond-guidance-range');
    expect(codes).not.toContain('yaml-broken');
  });

  test('is not offered for law', async () => {
    const text = planAt('130 m AGL');
    await begin(text);
    const titles = (await offered(text, '130 m')).map(({ title }) => title);
    expect(titles.filter((title) => title.startsWith('Accept'))).toEqual([]);
    expect(titles).toContain('Record a waiver of 14 CFR 107.51(b): add what it says');
  });

  test('a client without blanks is given the same text with nothing in them', async () => {
    await begin(FAR, PULLS);
    const { edit } = await offer(FAR, 'east-bank', 'Accept seen-beyond');
    const [change] = edit?.documentChanges ?? [];
    const texts =
      change !== undefined && 'edits' in change
        ? change.edits.flatMap((each) => ('newText' in each ? each.newText : []))
        : [];
    expect(texts.join('')).toMatch(/^\n {4}accepts: \[\{ rule: seen-beyond-guidance-range, because: "", up-to: /);
  });
});

describe('leave of an authority', () => {
  const INSIDE = planAt('60 m AGL').replace('[zones.geojson]', '[tower.geojson]');

  test('the skeleton of an authorisation is put in with everything blank that the authority answers', async () => {
    await begin(INSIDE);
    const action = await offer(INSIDE, 'east-bank', 'Ask for an authorisation for zone ctr-lake');
    const bare = applying(INSIDE, action, () => '');
    expect(bare).toContain(
      'authorisations: [{ number: , zone: ctr-lake, up-to:  m AGL, from: , until: , holder:  }]\nroute:',
    );
    await client.change(uri, bare, 2);
    // What is not filled in lifts nothing.
    expect((await client.pull(uri)).map(({ code }) => code)).toContain('zone-entered-unauthorised');
    const answers: Readonly<Record<string, string>> = {
      1: 'A-114',
      2: '70',
      5: FLIGHT_DAY,
      6: FLIGHT_DAY,
      7: 'pilot',
    };
    await client.change(
      uri,
      applying(INSIDE, action, (blank) => answers[blank] ?? 'X'),
      3,
    );
    expect((await client.pull(uri)).map(({ code }) => code)).not.toContain('zone-entered-unauthorised');
  });
});

test('all legs are kept under the limit at once, proved by judging again before it is offered', async () => {
  const text = planAt('130 m AGL').replace(
    '  - land: home\n',
    '  - point: middle\n    at: 47.501, -120.498\n    altitude: 140 m AGL\n  - point: west\n    at: 47.501, -120.5\n    altitude: 125 m AGL\n  - land: home\n',
  );
  await begin(text);
  const action = await offer(text, '130 m AGL', 'Bring all points under the height limit: ');
  await client.change(uri, applying(text, action), 2);
  const codes = (await client.pull(uri)).map(({ code }) => code);
  expect(codes.filter((code) => String(code).endsWith('above-height-limit'))).toEqual([]);
  // The light bulb asks at each move of the cursor, where a whole review would be too much.
  await client.change(uri, text, 3);
  expect((await offered(text, '130 m AGL', 2)).filter(({ title }) => title.startsWith('Bring all'))).toEqual([]);
});

test('a plan of the past is moved to tomorrow at the same hours, and stops at each look without moving it', async () => {
  const past = planAt('60 m AGL').replaceAll(FLIGHT_DAY, '2025-06-14');
  await begin(past);
  const action = await offer(past, 'window:', 'Fly again on ');
  const then = /Fly again on (\d{4}-\d\d-\d\d)/.exec(action.title)?.[1] ?? '';
  const text = applying(past, action);
  expect(text).toContain(`window: { from: ${then} 12:40 -08:00, until: ${then} 13:10 -08:00 }`);
  expect(text.replace(/^window: .*$/m, '')).toBe(past.replace(/^window: .*$/m, ''));
  expect(action.title).toContain('stop at 4 dates of looks');
  await client.change(uri, text, 2);
  const codes = (await client.pull(uri)).map(({ code }) => code);
  expect(codes).not.toContain('window-over');
});

test('a position in another notation is turned into ours by an action, and when it is pasted', async () => {
  const text = planAt('60 m AGL').replace('47.5, -120.498', '47°30\'00.0"N 120°29\'52.8"W');
  await begin(text);
  const mended = applying(text, await offer(text, '47°30', 'Write "47.5'));
  expect(mended).toContain('    at: 47.5, -120.498\n');
  const ask = (marked: string, pasted: string): Promise<string | null> =>
    client.connection.sendRequest('waywarden/pastedPosition', { uri, position: placeOf(text, marked), text: pasted });
  await client.change(uri, text.replace(/at: .*/, 'at: '), 2);
  const { line, character } = placeOf(text, "47°30'");
  const pasted = (value: string) =>
    client.connection.sendRequest<string | null>('waywarden/pastedPosition', {
      uri,
      position: { line, character },
      text: value,
    });
  expect(await pasted('geo:47.5,-120.498')).toBe('47.5, -120.498');
  expect(await pasted('hello')).toBe(null);
  expect(await ask('title', 'geo:47.5,-120.498')).toBe(null);
});

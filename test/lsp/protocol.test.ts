import { writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { CodeAction, Diagnostic, DocumentSymbol, Hover, Range } from 'vscode-languageserver/node';
import { CancellationTokenSource } from 'vscode-languageserver/node';
import { changed } from '../../server/src/lsp/documents.ts';
import { IS_PUSHED, type LanguageClient, PULLS, startServer, until } from '../support/language-client.ts';
import { AIRCRAFT, day, FLIGHT_DAY, makeLake, planAt } from './lake.ts';

let lake: ReturnType<typeof makeLake>;
let uri: string;
let client: LanguageClient;

beforeAll(() => {
  lake = makeLake();
  uri = lake.uri('survey.mission.yaml');
});
afterAll(() => lake.remove());
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
});

const begin = async (capabilities = PULLS, options?: unknown): Promise<void> => {
  client = startServer();
  await client.initialize(capabilities, options);
};

/** The range of a piece of text in a plan. */
const rangeOf = (text: string, piece: string): Range => {
  const lines = text.slice(0, text.indexOf(piece)).split('\n');
  const start = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
  return { start, end: { line: start.line, character: start.character + piece.length } };
};

const hoverText = async (at: string, place: Range): Promise<string> => {
  const hover = await client.connection.sendRequest<Hover | null>('textDocument/hover', {
    textDocument: { uri: at },
    position: place.start,
  });
  const contents: unknown = hover?.contents;
  return typeof contents === 'object' && contents !== null && 'value' in contents ? String(contents.value) : '';
};

const actions = (at: string, range: Range, only?: readonly string[]): Promise<readonly CodeAction[]> =>
  client.connection.sendRequest('textDocument/codeAction', {
    textDocument: { uri: at },
    range,
    context: { diagnostics: [], ...(only === undefined ? {} : { only }) },
  });

const applied = (text: string, action: CodeAction | undefined): string => {
  const [change] = action?.edit?.documentChanges ?? [];
  if (change === undefined || !('edits' in change)) throw new Error('the action has no versioned edit');
  const edits = change.edits.flatMap((edit) => ('newText' in edit ? [{ range: edit.range, text: edit.newText }] : []));
  return changed(text, edits.toReversed());
};

describe('a client that pulls', () => {
  test('is told what the server can do', async () => {
    client = startServer();
    const { capabilities } = await client.initialize(PULLS);
    expect(capabilities.diagnosticProvider).toMatchObject({ interFileDependencies: true, workspaceDiagnostics: true });
    expect(capabilities.hoverProvider).toBe(true);
    expect(capabilities.codeActionProvider).toMatchObject({
      codeActionKinds: ['quickfix', 'refactor.rewrite', 'source.fixAll.waywarden'],
    });
    expect(capabilities.positionEncoding ?? 'utf-16').toBe('utf-16');
  });

  test('sees nothing where nothing is wrong', async () => {
    await begin();
    await client.open(uri, planAt('60 m AGL'));
    expect(await client.pull(uri)).toEqual([]);
  });

  test('sees a mistake under its exact characters, mends it by the quick fix, and sees it gone without saving', async () => {
    await begin();
    const text = planAt('60');
    await client.open(uri, text);
    const slip = (await client.pull(uri)).find(({ code }) => code === 'number-without-unit');
    const range = rangeOf(text, '60\n    leg');
    expect(slip?.range).toEqual({ start: range.start, end: { ...range.start, character: range.start.character + 2 } });
    expect(slip?.severity).toBe(1);
    expect(slip?.source).toBe('waywarden');
    expect(slip?.message).toContain('"60"');

    const offered = await actions(uri, range);
    expect(offered.map(({ title }) => title)).toContain('Write "60 m AGL" (was "60")');
    // Which unit was meant is for a person to say, so that no key may choose it unread.
    expect(offered.some(({ isPreferred }) => isPreferred === true)).toBe(false);
    const mended = applied(
      text,
      offered.find(({ title }) => title.includes('"60 m AGL"')),
    );
    expect(mended).toBe(planAt('60 m AGL'));
    await client.change(uri, mended, 2);
    expect(await client.pull(uri)).toEqual([]);
    expect(client.pushed).toEqual([]);
  });

  test('reads in the hover what was found, both unit systems, the limit, who set it, and why', async () => {
    await begin();
    const text = planAt('130 m AGL');
    await client.open(uri, text);
    const range = rangeOf(text, '130 m AGL');
    expect((await client.pull(uri)).find(({ code }) => code === 'point-above-height-limit')?.range).toEqual(range);
    const said = await hoverText(uri, range);
    expect(said).toContain('Found: **130 m (426.5 ft) above ground**. Limit: **121.92 m (400 ft) above ground**');
    expect(said).toContain('107\\.51\\(b\\)');
    expect(said).toContain('To mend:');
  });

  test('reads at an item its position, its height in three frames, and the leg to it', async () => {
    await begin();
    const text = planAt('60 m AGL').replaceAll(FLIGHT_DAY, '2030-06-14');
    await client.open(uri, text);
    const said = await hoverText(uri, rangeOf(text, 'east-bank'));
    expect(said).toContain('Position: 47.5, -120.498');
    expect(said).toContain(
      'Height: 60 m (196.9 ft) above take-off, 60 m (196.9 ft) above ground, 460 m (1509.2 ft) above mean sea level',
    );
    // 0.002 degrees of longitude at 47.5 N are 150.7 m: a degree is 75.34 km there (WGS 84, prime vertical radius).
    expect(said).toContain('Leg from home: 151 m, course 090° true, magnetic not assessed (the flight is on 2030');
    expect(said).toMatch(/Above the ground along it: least 60 m \(196\.9 ft\) at .*, greatest 60 m/);
  });

  test('reads at an item the course of its leg by the compass, on the day of the flight', async () => {
    await begin();
    const text = planAt('60 m AGL').replaceAll(FLIGHT_DAY, '2026-06-14');
    await client.open(uri, text);
    const said = await hoverText(uri, rangeOf(text, 'east-bank'));
    expect(said).toContain('Leg from home: 151 m, course 090° true, 075° magnetic (variation 15° E, WMM2025)');
    const { end } = rangeOf(text, 'land: ');
    expect(await hoverText(uri, { start: end, end })).toContain(
      'course 270° true, 255° magnetic (variation 15° E, WMM2025)',
    );
  });

  test('reads at a field what it means, its units and examples, and the trap of heights above ground', async () => {
    await begin();
    const text = planAt('60 m AGL');
    await client.open(uri, text);
    const said = await hoverText(uri, rangeOf(text, 'altitude'));
    expect(said).toContain('Units: m or ft with its datum');
    expect(said).toContain('`60 m AGL`');
    expect(said).toMatch(/between points the aircraft flies a straight line/i);
    expect(said).toContain('`leg: { follows: 60 m AGL within 5 m }`');
  });

  test('reads at a reference what lies behind it: the aircraft, the edition of the data, and why it cannot be used', async () => {
    await begin();
    const text = planAt('60 m AGL').replace('terrain: N47W121.hgt', 'terrain: gone.tif');
    await client.open(uri, text);
    expect(await hoverText(uri, rangeOf(text, 'craft.aircraft'))).toContain('bittern\\-2, multirotor, 1\\.4 kg');
    expect(await hoverText(uri, rangeOf(text, 'zones.geojson'))).toContain('edition made up, retrieved ');
    expect(await hoverText(uri, rangeOf(text, 'gone.tif'))).toContain('gone\\.tif does not exist');
  });

  test('reads the page of a rule where an acceptance names it', async () => {
    await begin();
    const accepts =
      '    accepts: [{ rule: seen-beyond-guidance-range, because: short, up-to: 300 m, until: 2030-06-30 }]\n';
    const text = planAt('60 m AGL').replace('  - land: home\n', `${accepts}  - land: home\n`);
    await client.open(uri, text);
    const said = await hoverText(uri, rangeOf(text, 'seen-beyond-guidance-range'));
    expect(said).toContain('### seen-beyond-guidance-range');
    expect(said).toContain('**Condition.**');
  });

  test('shows the text of a plan as it is, whatever Markdown or HTML it holds', async () => {
    await begin();
    const name = '[x](command:y) <img src=z> **b**';
    const text = planAt('60 m AGL').replace('east-bank', `"${name}"`);
    await client.open(uri, text);
    const said = await hoverText(uri, rangeOf(text, '[x]'));
    expect(said).not.toContain('[x](');
    expect(said).not.toMatch(/(?<!\\)<img/);
    expect(said).toContain('\\[x\\]\\(command\\:y\\) \\<img src\\=z\\> \\*\\*b\\*\\*');
  });

  test('gets "unchanged" where nothing it shows has changed', async () => {
    await begin();
    await client.open(uri, planAt('60'));
    const first = await client.report(uri);
    expect(first.kind).toBe('full');
    const again = await client.report(uri, first.resultId);
    expect(again).toEqual({ kind: 'unchanged', resultId: first.resultId });
    await client.change(uri, planAt('61'), 2);
    expect((await client.report(uri, first.resultId)).kind).toBe('full');
  });

  test('lists the items of the route in the outline', async () => {
    await begin();
    await client.open(uri, planAt('60 m AGL'));
    const symbols = await client.connection.sendRequest<readonly DocumentSymbol[]>('textDocument/documentSymbol', {
      textDocument: { uri },
    });
    expect(symbols.map(({ name, detail }) => `${name}: ${detail}`)).toEqual([
      'home: take-off',
      'east-bank: point, 60 m AGL',
      'home: land',
    ]);
  });

  test('mends in bulk only slips that have one mend and leave the flight as it is', async () => {
    await begin();
    const text = planAt('60').replace('title:', 'titel:');
    await client.open(uri, text);
    const whole = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
    const [all, ...more] = await actions(uri, whole, ['source.fixAll']);
    expect(more).toEqual([]);
    expect(all?.kind).toBe('source.fixAll.waywarden');
    expect(applied(text, all)).toBe(planAt('60'));
    expect((await actions(uri, whole)).every(({ kind }) => kind === 'quickfix')).toBe(true);
  });
});

describe('documents that belong together', () => {
  test('an aircraft file that is open and not saved beats the one on the disk', async () => {
    await begin();
    const craft = lake.uri('craft.aircraft.yaml');
    await client.open(uri, planAt('60 m AGL'));
    expect(await client.pull(uri)).toEqual([]);
    await client.open(craft, AIRCRAFT, 'waywarden-aircraft');
    await client.change(craft, AIRCRAFT.replace('2032-03-31', day(-30)), 2);
    const [lapsed] = await client.pull(uri);
    expect(lapsed?.code).toBe('registration-lapsed');
    expect(lapsed?.range).toEqual(rangeOf(planAt('60 m AGL'), 'craft.aircraft.yaml'));
    expect(lapsed?.relatedInformation?.[0]?.location.uri).toBe(craft);
    await until(() => client.refreshes > 0);
    await client.close(craft);
    expect(await client.pull(uri)).toEqual([]);
  });

  test('a file that appears on the disk is noticed when the client says so', async () => {
    await begin();
    const text = planAt('60 m AGL').replace('craft.aircraft.yaml', 'later.aircraft.yaml');
    await client.open(uri, text);
    expect((await client.pull(uri)).map(({ code }) => code)).toContain('reference-unreadable');
    writeFileSync(lake.path('later.aircraft.yaml'), AIRCRAFT);
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: lake.uri('later.aircraft.yaml'), type: 1 }],
    });
    expect(await client.pull(uri)).toEqual([]);
    await until(() => client.refreshes > 0);
  });

  test('an aircraft file and a settings file have their own mistakes shown', async () => {
    await begin();
    const craft = lake.uri('other.aircraft.yaml');
    const aircraft = AIRCRAFT.replace('1.4 kg', '1.4');
    await client.open(craft, aircraft, 'waywarden-aircraft');
    const [slip] = await client.pull(craft);
    expect(slip?.code).toBe('number-without-unit');
    expect(slip?.range).toEqual(rangeOf(aircraft, '1.4'));
    expect((await actions(craft, rangeOf(aircraft, '1.4'))).map(({ title }) => title)).toContain(
      'Write "1.4 kg" (was "1.4")',
    );
    expect(await hoverText(craft, rangeOf(aircraft, 'max-wind'))).toContain('**max-wind**');

    const house = lake.uri('deeper/waywarden.settings.yaml');
    await client.open(house, 'settings: 1\ncuontry: US\n', 'waywarden-settings');
    const [unknown] = await client.pull(house);
    expect(unknown?.code).toBe('key-unknown');
    expect(unknown?.range).toEqual(rangeOf('settings: 1\ncuontry: US\n', 'cuontry'));
  });

  test('data folders come from the client of this machine, and none is granted in restricted mode', async () => {
    const text = planAt('60 m AGL').replace('terrain: ', 'terrain: data:');
    await begin(PULLS, { dataFolders: [lake.path('.')], restricted: false });
    await client.open(uri, text);
    expect(await client.pull(uri)).toEqual([]);
    await client.connection.sendNotification('waywarden/grantsChanged', {
      dataFolders: [lake.path('.')],
      restricted: true,
    });
    expect((await client.pull(uri)).map(({ message }) => message).join('\n')).toContain('restricted mode');
    await until(() => client.refreshes > 0);
  });
});

describe('a client that does not pull', () => {
  test('is sent findings with the version of the text, also none, and plain text in hovers', async () => {
    await begin(IS_PUSHED);
    const text = planAt('130 m AGL');
    await client.open(uri, text);
    const first = await until(() => client.pushed.find(({ version }) => version === 1));
    expect(first.diagnostics.map(({ code }) => code)).toContain('point-above-height-limit');
    expect(await hoverText(uri, rangeOf(text, '130 m AGL'))).toContain('Found: 130 m (426.5 ft) above ground.');
    await client.change(uri, planAt('60 m AGL'), 2);
    const second = await until(() => client.pushed.find(({ version }) => version === 2));
    expect(second.diagnostics).toEqual([]);
    await client.close(uri);
    await until(() => client.pushed.at(-1)?.version === undefined);
    expect(client.pushed.at(-1)).toEqual({ uri, diagnostics: [] });
  });
});

describe('trouble', () => {
  test('a pull that is cancelled with little left is answered, and the next one is for the newest text', async () => {
    await begin();
    await client.open(uri, planAt('60 m AGL'));
    // What follows an edit is little; the first review of a program that has just started is not.
    await client.pull(uri);
    await client.change(uri, planAt('61 m AGL'), 2);
    const cancel = new CancellationTokenSource();
    const first = client.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri } }, cancel.token);
    cancel.cancel();
    await client.change(uri, planAt('60'), 3);
    const next = client.pull(uri);
    expect(await first).toMatchObject({ kind: 'full' });
    expect((await next).map(({ code }) => code)).toContain('number-without-unit');
  });

  test('keys typed faster than the server judges end with the findings of the last text', async () => {
    await begin();
    await client.open(uri, planAt('6'));
    const waiting: Promise<unknown>[] = [];
    for (let version = 2; version < 60; version++) {
      await client.change(uri, planAt(version % 2 === 0 ? '60 m AGL' : '60'), version);
      waiting.push(client.pull(uri));
    }
    await client.change(uri, planAt('60 m AGL'), 60);
    expect(await client.pull(uri)).toEqual([]);
    await Promise.all(waiting);
  });

  test('a long review lets other requests in between', async () => {
    await begin();
    const points = Array.from(
      { length: 1000 },
      (_, i) => `  - point: p${i}\n    at: 47.${5000 + i}, -120.498\n    altitude: 60 m AGL\n`,
    ).join('');
    const long = lake.uri('long.mission.yaml');
    await client.open(uri, planAt('60 m AGL'));
    await client.pull(uri);
    await client.open(long, planAt('60 m AGL').replace('  - land: home\n', `${points}  - land: home\n`));
    const ended: string[] = [];
    const pull = client.report(long).then(() => ended.push('long'));
    await hoverText(uri, rangeOf(planAt('60 m AGL'), 'east-bank'));
    ended.push('hover');
    await pull;
    expect(ended).toEqual(['hover', 'long']);
  });

  test('changes by ranges give the same text as the whole text', async () => {
    await begin();
    const text = planAt('60 m AGL').replaceAll('\n', '\r\n');
    await client.open(uri, text);
    const { start, end } = rangeOf(text, '60 m AGL');
    await client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      // A character past the line's end means its end: the line break stays.
      contentChanges: [
        { range: { start, end: { line: end.line, character: 9999 } }, text: '60' },
        { range: { start: { line: 1, character: 0 }, end: { line: 1, character: 0 } }, text: '# a remark\r\n' },
      ],
    });
    const [slip] = await client.pull(uri);
    expect(slip?.code).toBe('number-without-unit');
    expect(slip?.range.start).toEqual({ line: start.line + 1, character: start.character });
  });

  test.each([
    ['an empty text', ''],
    ['binary bytes', '\u0000\u0001\ufffd\u0000'],
    ['an unclosed bracket', 'mission: 1\nroute: [[[{'],
    ['deep nesting', '['.repeat(20_000)],
    ['a lone list', '- a\n- b\n'],
    ['lone surrogates', 'mission: \ud800\ntitle: "\udc00'],
  ])('%s is answered with findings, and every request with an answer', async (_name, text) => {
    await begin();
    await client.open(uri, text);
    expect((await client.pull(uri)).length).toBeGreaterThan(0);
    const start = { line: 0, character: 0 };
    await hoverText(uri, { start, end: start });
    await actions(uri, { start, end: { line: 1e6, character: 1e6 } });
    await client.connection.sendRequest('textDocument/documentSymbol', { textDocument: { uri } });
  });

  test('an address that is not open has no findings and nothing to tell', async () => {
    await begin();
    const nowhere = 'strange:no/such%zzplace';
    expect(await client.pull(nowhere)).toEqual([]);
    const place = { start: { line: 3, character: 3 }, end: { line: 3, character: 3 } };
    expect(await hoverText(nowhere, place)).toBe('');
    expect(await actions(nowhere, place)).toEqual([]);
    await client.change(nowhere, 'x', 4);
    await client.close(nowhere);
  });

  test('a plan that was never saved is judged, and says that what it refers to cannot be reached', async () => {
    await begin();
    await client.open('untitled:Untitled-1', planAt('60'));
    const found = await client.pull('untitled:Untitled-1');
    expect(found.map(({ code }) => code)).toContain('number-without-unit');
    expect(found.map(({ message }) => message).join('\n')).toContain('cannot be reached');
  });

  test('a past state of a file, shown beside the present one, is not judged', async () => {
    await begin();
    const past = `git:${lake.path('survey.mission.yaml')}?%7B%22ref%22%3A%22HEAD%22%7D`;
    await client.open(past, planAt('60'));
    expect(await client.pull(past)).toEqual([]);
  });

  test('edits by ranges, one after another, leave the server with the client’s text', async () => {
    await begin();
    await client.open(uri, planAt('60 m AGL').replace('Reed-bed', '🪶 Reed-bed'));
    let text = planAt('60 m AGL').replace('Reed-bed', '🪶 Reed-bed');
    // Seeded, so that a failure can be seen again (Numerical Recipes' linear congruential constants, from memory).
    let seed = 20_261;
    const random = (below: number): number => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return seed % below;
    };
    const at = (offset: number) => {
      const lines = text.slice(0, offset).split('\n');
      return { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
    };
    for (let version = 2; version < 80; version++) {
      const from = random(text.length);
      const to = Math.min(text.length, from + random(6));
      const put = ['', 'x', '\n', ': ', '🪶', '[', '"', '- '][random(8)] ?? '';
      await client.connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start: at(from), end: at(to) }, text: put }],
      });
      text = text.slice(0, from) + put + text.slice(to);
    }
    const edited = await client.pull(uri);
    const cold = lake.uri('cold.mission.yaml');
    await client.open(cold, text);
    const strip = (diagnostics: readonly Diagnostic[]) =>
      diagnostics.map(({ range, code, message }) => ({ range, code, message }));
    expect(strip(edited)).toEqual(strip(await client.pull(cold)));
    expect(edited.length).toBeGreaterThan(0);
  });

  test('a document closed in the middle of a pull gets no findings', async () => {
    await begin();
    await client.open(uri, planAt('60'));
    const pull = client.pull(uri);
    await client.close(uri);
    await pull;
    expect(await client.pull(uri)).toEqual([]);
  });
});

import { describe, expect, test } from 'vitest';
import { plain } from '../../server/src/cli/terminal.ts';
import { markup, shortly, xmlLine } from '../../server/src/pictures/markup.ts';
import { withoutEntities } from '../support/markup.ts';
import { NASTY } from '../support/nasty-strings.ts';

describe('markup', () => {
  test.each(Object.entries(NASTY))('lets nothing of a text become markup: %s', (_, text) => {
    const { markup: made } = markup`<p title="${text}">${text}</p>`;
    expect([...made.matchAll(/[<>]/g)]).toHaveLength(4);
    expect([...made.matchAll(/"/g)]).toHaveLength(2);
    expect(made).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/);
    const inside = /<p title="([^"]*)">([^<]*)<\/p>/.exec(made);
    expect(inside?.[1]).toBe(inside?.[2]);
    expect(
      withoutEntities(inside?.[2] ?? '')
        .replaceAll('\\u{fffe}', '\ufffe')
        .replaceAll('\\u{ffff}', '\uffff'),
    ).toBe(plain(text));
  });

  test('markup in markup stays, lists are joined, what is undefined is nothing', () => {
    const inner = markup`<b>${'a & b'}</b>`;
    expect(markup`<p>${[inner, inner]}${undefined}</p>`.markup).toBe('<p><b>a &amp; b</b><b>a &amp; b</b></p>');
  });

  test('numbers are places on a picture: a tenth, never a minus nought, never an exponent, never no number', () => {
    const said = (n: number): string => markup`${n}`.markup;
    expect([1 / 3, -0.04, 1e-9, 1234.56, Number.NaN, Number.POSITIVE_INFINITY].map(said)).toEqual([
      '0.3',
      '0',
      '0',
      '1234.6',
      '0',
      '0',
    ]);
  });

  test('a long name is cut by characters, not inside one', () => {
    expect(shortly('a'.repeat(40), 5)).toBe('aaaa…');
    expect(shortly('\u{1f681}'.repeat(6), 3)).toBe('\u{1f681}\u{1f681}…');
    expect(xmlLine(shortly('\u{1f681}'.repeat(6), 3))).not.toContain('\\u');
  });
});

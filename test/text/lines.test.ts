import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Lines } from '../../server/src/text/lines.ts';
import { after as atEnd, before as atStart, endOf, type Span, startOf } from '../../server/src/text/span.ts';

describe('lines', () => {
  test.each([
    ['', 1],
    ['a', 1],
    ['a\n', 2],
    ['a\nb', 2],
    ['a\r\nb', 2],
    ['a\rb', 2],
    ['a\r\rb', 3],
    ['a\r\n\r\nb', 3],
    ['a\n\rb', 3],
    ['a\u2028b', 1],
  ])('%j has %i', (text, count) => expect(new Lines(text).count).toBe(count));

  test('columns count UTF-16 code units', () => {
    const lines = new Lines('ä🚁x\r\ny');
    expect(lines.at(3)).toEqual({ line: 0, column: 3 });
    expect(lines.at(6)).toEqual({ line: 1, column: 0 });
    expect(lines.offset({ line: 1, column: 1 })).toBe(7);
  });

  test('places outside the text count as its nearest end', () => {
    const lines = new Lines('ab\ncd');
    expect(lines.at(-3)).toEqual({ line: 0, column: 0 });
    expect(lines.at(99)).toEqual({ line: 1, column: 2 });
    expect(lines.offset({ line: -1, column: 5 })).toBe(0);
    expect(lines.offset({ line: 9, column: 0 })).toBe(5);
    expect(lines.offset({ line: 0, column: 99 })).toBe(3);
    expect(lines.offset({ line: 1, column: -4 })).toBe(3);
  });

  test('every offset comes back, and lines agree with the line breaks of the text', () => {
    const text = fc
      .array(fc.constantFrom('a', 'ä', '🚁', '\n', '\r', '\r\n', ' '), { maxLength: 40 })
      .map((parts) => parts.join(''));
    fc.assert(
      fc.property(text, (written) => {
        const lines = new Lines(written);
        const ends = [...written.matchAll(/\r\n|\n|\r/g)].map((match) => match.index + match[0].length);
        expect(lines.count).toBe(ends.length + 1);
        for (let offset = 0; offset <= written.length; offset++) {
          const place = lines.at(offset);
          expect(lines.offset(place)).toBe(offset);
          expect(place.line).toBe(ends.filter((end) => end <= offset).length);
        }
      }),
      { numRuns: 1000 },
    );
  });
});

describe('spans', () => {
  test('move with their anchor', () => {
    const anchor = { document: 'a.mission.yaml', at: 10 };
    const span: Span = { anchor, from: 2, to: 5 };
    expect([startOf(span), endOf(span), startOf(atStart(span)), endOf(atStart(span)), startOf(atEnd(span))]).toEqual([
      12, 15, 12, 12, 15,
    ]);
    anchor.at = 100;
    expect([startOf(span), endOf(span)]).toEqual([102, 105]);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { decodeReport, reportsOf } from '../../server/src/host/weather/decode-report.ts';
import { seeded } from '../support/random.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const REPORTS = 'weather/reports.json';

describe.skipIf(!hasReferenceData(REPORTS))(`reports as they are (${NEEDS_REFERENCE_DATA})`, () => {
  const texts = hasReferenceData(REPORTS)
    ? (JSON.parse(readFileSync(inReferenceData(REPORTS), 'utf8')) as readonly string[])
    : [];

  test('all 51 are decoded or refused with a reason', () => {
    expect(texts.length).toBe(51);
    const refused = texts.flatMap((text) => {
      const decoded = decodeReport(text);
      return 'refused' in decoded ? [`${decoded.name} ${decoded.refused}`] : [];
    });
    expect(refused).toEqual(['METAR AUTO 061950Z names no station', 'TAF VTBD 281000Z was cancelled by its office']);
  });

  test('what is not understood in them is quoted', () => {
    const unread = texts.flatMap((text) => {
      const decoded = decodeReport(text);
      return 'report' in decoded ? decoded.report.unread.map(({ group }) => group) : [];
    });
    expect(unread).toEqual(['AAA037', 'BKN037AAA', '26026G40', '26026G40', '11/2SM', '11/2SM', '11/2SM']);
  });

  test('no value of theirs is none', () => {
    for (const text of texts) {
      expect(JSON.stringify(decodeReport(text)), text).not.toMatch(/null|NaN/);
    }
  });

  test('none of them fails, cut anywhere', () => {
    for (const text of texts) {
      for (let cut = 0; cut < text.length; cut++) expect(decodeReport(text.slice(0, cut))).toBeTypeOf('object');
    }
  });

  test('none of them fails with its groups shuffled', () => {
    const random = seeded(51);
    for (const text of texts) {
      const groups = text.split(' ');
      for (let i = 0; i < 20; i++) {
        groups.sort(() => random() - 0.5);
        expect(decodeReport(groups.join(' '))).toBeTypeOf('object');
        expect(decodeReport(`METAR KZZU 010000Z ${groups.join(' ')}`)).toBeTypeOf('object');
      }
    }
  });
});

test('a file holds a report on each line; indented lines and changes carry one on', () => {
  expect(
    reportsOf(
      '# noon\nMETAR KZZU 141255Z 24006KT\r\n\nTAF KZZU 141120Z 1412/1512 24008KT\n  TEMPO 1413/1415 2SM\nFM141600 P6SM\n',
    ),
  ).toEqual(['METAR KZZU 141255Z 24006KT', 'TAF KZZU 141120Z 1412/1512 24008KT TEMPO 1413/1415 2SM FM141600 P6SM']);
});

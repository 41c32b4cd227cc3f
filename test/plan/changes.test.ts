import { describe, expect, test } from 'vitest';
import { sayChange } from '../../server/src/cli/formats/say-change.ts';
import { changesBetween } from '../../server/src/plan/changes.ts';
import { readPlanDocument } from '../../server/src/plan/read.ts';
import { SAMPLE_PLAN } from '../support/sample-plan.ts';

const between = (before: string, after: string) =>
  changesBetween(readPlanDocument(before, 'plan'), readPlanDocument(after, 'plan'));

const said = (before: string, after: string): readonly string[] => between(before, after).changes.map(sayChange);

const point = (name: string, at = '47.5040, -120.4810', altitude = '50 m AGL'): string =>
  `  - point: ${name}\n    at: ${at}\n    altitude: ${altitude}\n`;

const withPoints = (...points: readonly string[]): string =>
  SAMPLE_PLAN.replace('  - area: old-jetty', `${points.join('')}  - area: old-jetty`);

describe('what changed between two readings of a plan', () => {
  test('is nothing where only blanks, remarks, quotes and the order of keys differ', () => {
    const rewritten = SAMPLE_PLAN.replace('country: US\n', '')
      .replace(
        'title: Reed-bed survey, north shore',
        'country: "US"\ntitle: "Reed-bed survey, north shore" # as agreed',
      )
      .replace(
        '    at: 47.5032, -120.4801\n    altitude: 60 m AGL\n',
        '    altitude:   60 m AGL\n    at: 47.5032, -120.4801\n',
      );
    expect(said(SAMPLE_PLAN, rewritten)).toEqual([]);
  });

  test('tells how far a point moved and by how much it rose, with the texts as written', () => {
    const after = SAMPLE_PLAN.replace('47.5032, -120.4801', '47.5042, -120.4801').replace('60 m AGL', '75 m AGL');
    // A thousandth of a degree of latitude at 47.5 N is 111.2 m on WGS 84.
    expect(said(SAMPLE_PLAN, after)).toEqual([
      'point reed-bed moved 111 m: "47.5032, -120.4801" → "47.5042, -120.4801"',
      'point reed-bed: altitude "60 m AGL" → "75 m AGL" (+15 m)',
    ]);
  });

  test('gives no number for a height that counts from another datum', () => {
    expect(said(SAMPLE_PLAN, SAMPLE_PLAN.replace('60 m AGL', '60 m AMSL'))).toEqual([
      'point reed-bed: altitude "60 m AGL" → "60 m AMSL"',
    ]);
  });

  test('tells what was added and dropped, and where', () => {
    expect(said(SAMPLE_PLAN, withPoints(point('gate')))).toEqual(['point gate was added after point reed-bed']);
    expect(said(withPoints(point('gate')), SAMPLE_PLAN)).toEqual(['point gate was dropped']);
  });

  test('knows an item under another name by its fields, and hands on the new name', () => {
    const before = withPoints(point('gate'));
    const { changes, renames } = between(before, before.replace('point: gate', 'point: weir-gate'));
    expect(changes.map(sayChange)).toEqual(['point weir-gate was called "gate"']);
    expect([...renames]).toEqual([['gate', 'weir-gate']]);
  });

  test('does not take any new point for a dropped one', () => {
    const [before, after] = [withPoints(point('gate')), withPoints(point('mast', '47.5100, -120.4700', '90 m AGL'))];
    expect(said(before, after)).toEqual(['point gate was dropped', 'point mast was added after point reed-bed']);
  });

  test('tells as few items as can be that are flown in another order', () => {
    const [a, b, c, d] = ['a', 'b', 'c', 'd'].map((name, i) => point(name, `47.50${40 + i}, -120.4810`));
    expect(
      said(withPoints(a ?? '', b ?? '', c ?? '', d ?? ''), withPoints(d ?? '', a ?? '', b ?? '', c ?? '')),
    ).toEqual(['point d is now flown after point reed-bed']);
  });

  test('tells values of the head by the way to them', () => {
    const after = SAMPLE_PLAN.replace('elevation: 402 m', 'elevation: 412 m')
      .replace('country: US\n', '')
      .replace('airspace: [../world/zones.geojson]', 'airspace: [../world/zones.geojson, ../world/more.geojson]');
    expect(said(SAMPLE_PLAN, after)).toEqual([
      'the plan: country was dropped (it was "US")',
      'the plan: site.take-off.elevation "402 m" → "412 m"',
      'the plan: airspace[2] "../world/more.geojson" was added',
    ]);
  });

  test('reads a route in brackets as one in lines', () => {
    const flow = (altitude: string): string =>
      SAMPLE_PLAN.replace(
        /route:\n[\s\S]*?lost-link/,
        `route: [{ take-off: home }, { point: p, at: "47.5, -120.5", altitude: ${altitude} }]\nlost-link`,
      );
    expect(said(flow('60 m AGL'), flow('50 m AGL'))).toEqual(['point p: altitude "60 m AGL" → "50 m AGL" (-10 m)']);
  });

  test('loses nothing in a text that cannot be read in part', () => {
    expect(said(SAMPLE_PLAN, SAMPLE_PLAN.replace('altitude: 60 m AGL', 'altitude: "60 m AGL')).join('\n')).toContain(
      'reed-bed',
    );
  });
});

import { expect, test } from 'vitest';
import { tellItem } from '../../server/src/lsp/hover-item.ts';
import { LEVEL_GROUND, madePlan, SITE, worldWith } from '../facts/made-plan.ts';

const CAMERA =
  'camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm }';
const SQUARE =
  'inside: { polygon: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.5 }, { lat: 47.501, lon: -120.499 }, { lat: 47.5, lon: -120.499 }] }';

const told = (item: string, name: string): string => {
  const { tools, item: find } = madePlan(
    `${SITE}route:\n  - take-off: home\n    climb-to: 60 m AGL\n  - ${item}\n  - land: home\n`,
    worldWith([LEVEL_GROUND]),
  );
  return tellItem(find(name), tools);
};

test('the hover of a survey tells its lines, heights and photos, and the way to it', () => {
  const text = told(
    `{ survey: meadow, ${SQUARE}, altitude: 100 m AGL, course: 0 deg, overlap: { front: 75 %, side: 65 % }, ${CAMERA}, speed: 6 m/s over ground }`,
    'meadow',
  );
  expect(text).toContain('**survey meadow**');
  expect(text).toContain('Lines: 2 lines, 52.5 m (172.2 ft) apart; 222 m on them, 275 m with the ways between');
  expect(text).toContain('least 100 m (328.1 ft) on leg meadow line 1 start to meadow line 1 end at 0 m');
  expect(text).toContain(
    'Photos: at 100 m (328.1 ft) above ground 150 m across and 100 m along, 2.74 cm from pixel to pixel, one every 25 m',
  );
  expect(text).toContain('Leg from home: ');
  expect(text).toMatch(/Speed: 6 m\/s .*over ground; on the way to the first point not stated/);
});

test('the hover of a circle tells its turns', () => {
  const text = told(
    '{ circle: tower, around: { lat: 47.5, lon: -120.5 }, radius: 30 m, turns: 2, sides: 36, altitude: 45 m AGL }',
    'tower',
  );
  expect(text).toContain('Turns: 2 turns of 36 sides; 377 m of way');
  expect(text).not.toContain('Photos');
});

test('the hover of a survey without lines says why it has none', () => {
  const text = told(`{ survey: meadow, ${SQUARE}, altitude: 100 m AGL, course: 0 deg, spacing: 0 m }`, 'meadow');
  expect(text).toContain(
    'Lines: not assessed: survey meadow cannot be worked out into legs\\: the lines of meadow lie 0 m from each other',
  );
});

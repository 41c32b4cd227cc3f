import { expect, test } from 'vitest';
import { positionIn, sayPasted } from '../../server/src/lsp/mending/pasted-position.ts';

// One place in many notations: 47.5021 N 120.4813 W is 47 deg 30.126 min, 120 deg 28.878 min; 47 30 07.56, 120 28 52.68.
test.each([
  '47.5021, -120.4813',
  '47.5021N 120.4813W',
  '47°30\'07.56"N, 120°28\'52.68"W',
  "N 47° 30.126' W 120° 28.878'",
  'geo:47.5021,-120.4813;u=10',
  'POINT (-120.4813 47.5021)',
  'SRID=4326;POINT(-120.4813 47.5021)',
  '{ "type": "Point", "coordinates": [-120.4813, 47.5021] }',
  'lat: 47.5021, lon: -120.4813',
  '"lat": 47.5021, "lng": -120.4813',
  'latitude=47.5021 longitude=-120.4813',
])('%s is read as one place', (text) => {
  const read = positionIn(text);
  expect(read).toBeDefined();
  if (read === undefined) return;
  expect(read.value.lat).toBeCloseTo(47.5021, 6);
  expect(read.value.lon).toBeCloseTo(-120.4813, 6);
  expect(sayPasted(read, 'flow')).toBe('{ lat: 47.5021, lon: -120.4813 }');
});

test.each(['[-120.4813, 47.5021]', '10T 688000 5263000', 'lat: 147.5, lon: 12', '', 'POINT (47.5021)'])(
  '%s is refused rather than guessed',
  (text) => expect(positionIn(text)).toBeUndefined(),
);

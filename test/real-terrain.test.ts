import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { legPath } from '../server/src/geo/geodesy.ts';
import { diskFiles } from '../server/src/host/disk.ts';
import { worldCache } from '../server/src/host/load-world.ts';
import { prepare } from '../server/src/host/prepare.ts';
import type { Review } from '../server/src/review/outcome.ts';
import { review } from '../server/src/review/review.ts';
import type { Finding } from '../server/src/rulebook/finding.ts';
import { endOf, startOf } from '../server/src/text/span.ts';
import { instant, type LonLat, lonLat } from '../server/src/units/frames.ts';
import type { Files } from '../server/src/world/files.ts';
import { memoryFiles } from './support/memory-files.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from './support/reference-data.ts';

/**
 * A plan in the Presidential Range (SRTM tile N44W072, NASA, public domain) on the way down Mount Washington's south-east
 * side. Every point is 100 m above the ground at its place, and between two of them the ground falls away, between two
 * others it stands up. The expectations come from sampling the tile's own bytes every metre, by code of this file.
 */
const TILE = 'terrain/N44W072.hgt';
const CUT = 'terrain/derived_presidential_4326_cog.tif';
const GEOID = 'geodesy/egm96_15.gtx';
const ELLIPSOIDAL = 'terrain/derived_presidential_ellipsoidal_epsg4979.tif';

const HOME = lonLat(-71.29086, 44.2527);
const LEDGE = lonLat(-71.28606, 44.25403);
const HOLLOW = lonLat(-71.28826, 44.24804);
const BROOK = lonLat(-71.2887, 44.24769);
const SPUR = lonLat(-71.29663, 44.25535);

const AT_100 = 100;
const LIMIT = 400 * 0.3048;

const planWith = (terrain: string): string => `mission: 1
title: Down the ravine
purpose: snow survey for a client
country: US
window: { from: 2026-06-14 06:40 -04:00, until: 2026-06-14 07:10 -04:00 }
aircraft: craft.aircraft.yaml
site: { take-off: { lat: 44.2527, lon: -71.29086 }, permission: { of: forest office, given: 2026-06-02 } }
crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }
terrain: ${terrain}
airspace: [zones.geojson]
preflight: [{ covers: [crew, aircraft, traffic], seen: 2026-06-13, by: pilot }]
restrictions: { none-found: notices of the area, seen: 2026-06-13, by: pilot }
obstacles: { none-above: 20 m AGL, seen: 2026-06-12, by: pilot }
people: { none-within: 300 m, seen: 2026-06-12, by: pilot }
weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: 3000 ft AGL, temperature: 15 C }
lost-link: { after: 5 s, then: land there }
route:
  - take-off: home
  - point: ledge
    at: 44.25403, -71.28606
    altitude: 100 m AGL
  - point: hollow
    at: 44.24804, -71.28826
    altitude: 100 m AGL
  - point: brook
    at: 44.24769, -71.2887
    altitude: 100 m AGL
  - point: spur
    at: 44.25535, -71.29663
    altitude: 100 m AGL
  - land: home
`;

const AROUND: Readonly<Record<string, string>> = {
  '/plans/zones.geojson': JSON.stringify({
    type: 'FeatureCollection',
    edition: '2026-06-01',
    retrieved: '2026-06-12T08:00:00Z',
    covers: [-72, 44, -71, 45],
    features: [],
  }),
  // Large enough to be made out all the way, so that nothing is found but heights.
  '/plans/craft.aircraft.yaml':
    'aircraft: 1\nname: gannet-3\nkind: fixed-wing\nmass: 6.2 kg\nsize: 2.6 m\nmax-speed: 22 m/s\nmax-wind: 12 m/s\ncruise-speed: 16 m/s\nclimb-rate: 6 m/s\ndescent-rate: 6 m/s\nendurance: 70 min\nreserve: 20 %\nlink-range: 4 km\nregistration: { number: FA3GANN3T2, expires: 2028-03-31 }\nremote-identification: { means: standard, serial: WAYW8GT000003 }\n',
};

/** The plan's own files in memory, the tile on the disk as a data folder granted by the machine. */
const filesWith = (plan: string): Files => {
  const memory = memoryFiles({ ...AROUND, '/plans/flight.mission.yaml': plan });
  const disk = diskFiles();
  const of = (location: string): Files => (location.startsWith('/plans') || location === '/' ? memory : disk);
  return {
    resolve: (document, reference) => of(document).resolve(document, reference),
    real: (location) => of(location).real(location),
    stat: (location) => of(location).stat(location),
    list: (folder) => of(folder).list(folder),
    read: (location) => of(location).read(location),
    readPart: async (location, offset, length) =>
      (await of(location).readPart?.(location, offset, length)) ?? Promise.reject(new Error('has no parts')),
  };
};

const judge = async (file: string, head = ''): Promise<{ readonly found: Review; readonly text: string }> => {
  const name = file.slice('terrain/'.length);
  const text = planWith(`data:${name}`).replace('\nroute:', `\n${head}route:`);
  const host = {
    files: filesWith(text),
    dataFolders: [inReferenceData('terrain'), inReferenceData('geodesy')],
    restricted: false,
    cache: worldCache(),
  };
  const now = instant(Date.UTC(2026, 5, 13, 12));
  const { input } = await prepare(text, '/plans/flight.mission.yaml', host, now);
  return { found: review(input), text };
};

/** Bilinear ground of the tile, from its bytes: 1201 rows from north to south, big-endian, three arc-seconds apart. */
const tileGround = (): ((at: LonLat) => number) => {
  const bytes = readFileSync(inReferenceData(TILE));
  const node = (column: number, row: number): number => bytes.readInt16BE((row * 1201 + column) * 2);
  return ({ lon, lat }) => {
    const [x, y] = [(lon + 72) * 1200, (45 - lat) * 1200];
    const [column, row] = [Math.floor(x), Math.floor(y)];
    const [p, q] = [x - column, y - row];
    const north = node(column, row) * (1 - p) + node(column + 1, row) * p;
    const south = node(column, row + 1) * (1 - p) + node(column + 1, row + 1) * p;
    return north * (1 - q) + south * q;
  };
};

interface Sampled {
  readonly height: number;
  readonly along: number;
}

/** Lowest and highest height above ground on a leg whose ends are 100 m above theirs, sampled every metre. */
const sampleLeg = (from: LonLat, to: LonLat): { readonly least: Sampled; readonly greatest: Sampled } => {
  const ground = tileGround();
  const path = legPath(from, to);
  const [start, end] = [ground(from) + AT_100, ground(to) + AT_100];
  const samples: Sampled[] = [];
  for (let along = 0; along < path.length; along++) {
    samples.push({ along, height: start + ((end - start) * along) / path.length - ground(path.at(along)) });
  }
  const pick = (better: (one: Sampled, best: Sampled) => boolean): Sampled =>
    samples.reduce((best, one) => (better(one, best) ? one : best));
  return {
    least: pick((one, best) => one.height < best.height),
    greatest: pick((one, best) => one.height > best.height),
  };
};

/** The steepest that the height can change here between two samples, in metres: the slopes are below two in one. */
const PER_SAMPLE = 2;

const onlyFinding = (found: Review, rule: string): Finding => {
  const own = found.findings.filter((finding) => finding.rule === rule);
  expect(own).toHaveLength(1);
  const [first] = own;
  if (first === undefined) throw new Error(`no finding of ${rule}`);
  return first;
};

/** Sight has tests of its own; in a ravine the pilot at its head loses the aircraft, which these flights are not about. */
const expected = (text: string, found: Review): readonly string[] =>
  found.findings
    .filter(({ rule }) => rule !== 'hidden-from-pilot')
    .map(({ level, rule, subject, at }) => `${level} ${rule}: ${subject} on "${text.slice(startOf(at), endOf(at))}"`);

const TOO_HIGH = 'stop leg-above-height-limit: leg ledge to hollow on "hollow"';
const STRIKES = 'stop leg-meets-ground: leg brook to spur on "spur"';

describe('over the Presidential Range', () => {
  const skipped = (file: string): string => (hasReferenceData(file) ? '' : ` (${NEEDS_REFERENCE_DATA})`);

  test.skipIf(!hasReferenceData(TILE))(
    `the samples themselves say what the plan hides: every point is fine and two legs are not${skipped(TILE)}`,
    () => {
      for (const [from, to] of [
        [HOME, LEDGE],
        [HOLLOW, BROOK],
        [SPUR, HOME],
      ] as const) {
        const { least, greatest } = sampleLeg(from, to);
        expect(greatest.height).toBeLessThan(LIMIT - 5);
        expect(least.height).toBeGreaterThan(20 + 5);
      }
      expect(sampleLeg(LEDGE, HOLLOW).greatest.height).toBeGreaterThan(LIMIT + 5);
      expect(sampleLeg(LEDGE, HOLLOW).least.height).toBeGreaterThan(20 + 5);
      expect(sampleLeg(BROOK, SPUR).least.height).toBeLessThan(-5);
      expect(sampleLeg(BROOK, SPUR).greatest.height).toBeLessThan(LIMIT - 5);
    },
  );

  for (const file of [TILE, CUT]) {
    test.skipIf(!hasReferenceData(TILE) || !hasReferenceData(file))(
      `exactly the two legs are found in ${file}, where and by how much sampling says${skipped(file)}`,
      async () => {
        const { found, text } = await judge(file);
        expect(found.gaps.map(({ rule, reason }) => `${rule}: ${reason}`)).toEqual([]);
        expect(found.complete).toBe(true);
        expect(expected(text, found)).toEqual([TOO_HIGH, STRIKES]);

        const high = onlyFinding(found, 'leg-above-height-limit');
        const sampledHigh = sampleLeg(LEDGE, HOLLOW).greatest;
        expect(Math.abs((high.measured?.value ?? Number.NaN) - sampledHigh.height)).toBeLessThan(PER_SAMPLE / 2);
        expect(high.measured?.value).toBeGreaterThanOrEqual(sampledHigh.height - 0.01);
        expect(Math.abs((high.place?.alongM ?? Number.NaN) - sampledHigh.along)).toBeLessThan(2);

        const low = onlyFinding(found, 'leg-meets-ground');
        const sampledLow = sampleLeg(BROOK, SPUR).least;
        expect(Math.abs((low.measured?.value ?? Number.NaN) - sampledLow.height)).toBeLessThan(PER_SAMPLE / 2);
        expect(low.measured?.value).toBeLessThanOrEqual(sampledLow.height + 0.01);
        expect(Math.abs((low.place?.alongM ?? Number.NaN) - sampledLow.along)).toBeLessThan(2);
      },
    );
  }

  test.skipIf(!hasReferenceData(TILE) || !hasReferenceData(CUT))(
    `the tile and the GeoTIFF made from it give the same verdicts${skipped(CUT)}`,
    async () => {
      const [tile, cut] = [await judge(TILE), await judge(CUT)];
      const of = ({ found }: { readonly found: Review }) => ({
        matrix: found.matrix.map(({ rule, state }) => `${rule} = ${state}`),
        measured: found.findings.map(({ rule, measured }) => `${rule} ${(measured?.value ?? 0).toFixed(2)}`),
      });
      expect(of(cut)).toEqual(of(tile));
    },
  );

  test.skipIf(!hasReferenceData(ELLIPSOIDAL))(
    `heights above the ellipsoid are refused on the reference, and nothing about the ground counts as met${skipped(ELLIPSOIDAL)}`,
    async () => {
      const { found, text } = await judge(ELLIPSOIDAL);
      expect(expected(text, found)).toEqual([
        'stop reference-unreadable: reference data:derived_presidential_ellipsoidal_epsg4979.tif on "data:derived_presidential_ellipsoidal_epsg4979.tif"',
      ]);
      expect(found.findings[0]?.message).toContain('ellipsoid');
      const states = new Map(found.matrix.map(({ rule, state }) => [rule, state]));
      for (const rule of ['leg-above-height-limit', 'leg-meets-ground', 'leg-below-obstacle-statement']) {
        expect(states.get(rule)).toBe('not-assessed');
      }
      expect(found.complete).toBe(false);
    },
  );

  test.skipIf(![CUT, ELLIPSOIDAL, GEOID].every(hasReferenceData))(
    `with the geoid grid the heights above the ellipsoid give the verdicts of those above the sea${skipped(GEOID)}`,
    async () => {
      const [high, low] = [await judge(ELLIPSOIDAL, 'geoid: data:egm96_15.gtx\n'), await judge(CUT)];
      // The rows name the file they rest on, which is another one here; all before that is the same.
      const verdicts = ({ found }: typeof high) =>
        found.matrix.map((row) => ({ ...row, because: row.because.replace(/; on .*$/, '') }));
      expect(verdicts(high)).toEqual(verdicts(low));
      expect(expected(high.text, high.found)).toEqual(expected(low.text, low.found));
      expect(low.found.findings.length).toBeGreaterThan(1);
      high.found.findings.forEach(({ measured }, i) => {
        const other = low.found.findings[i]?.measured?.value ?? Number.NaN;
        expect(Math.abs((measured?.value ?? Number.NaN) - other)).toBeLessThan(0.05);
      });
    },
  );
});

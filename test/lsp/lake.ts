import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { makeHgt } from '../support/make-raster.ts';

export const AIRCRAFT = `aircraft: 1
name: bittern-2
kind: multirotor
mass: 1.4 kg
size: 0.5 m
max-speed: 16 m/s
max-wind: 10 m/s
endurance: 25 min
registration: { number: FA3BITT2RN, expires: 2032-03-31 }
remote-identification: { means: standard, serial: WAYW8BT000002 }
`;

/** A plan over level ground 400 m above the sea, with `altitude` as the point's height. */
export const planAt = (altitude: string): string => `mission: 1
title: Reed-bed survey
purpose: survey for a client
country: US
window: { from: 2030-06-14 06:40 -07:00, until: 2030-06-14 07:10 -07:00 }
aircraft: craft.aircraft.yaml
site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: 2030-06-02 } }
crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2029-11-03, seen-by: office }
terrain: N47W121.hgt
restrictions: { none-found: notices of the area, seen: 2030-06-13, by: pilot }
airspace: [zones.geojson]
obstacles: { none-above: 20 m AGL, seen: 2030-06-12, by: pilot }
people: { none-within: 150 m, seen: 2030-06-12, by: pilot }
weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }
lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }
route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: ${altitude}
    leg: { speed: 8 m/s over ground }
  - land: home
`;

export const ZONES =
  '{ "type": "FeatureCollection", "edition": "made up", "retrieved": "2030-06-12T08:00:00Z", "covers": [-121, 47, -120, 48], "features": [] }';

export const HGT_NAME = 'N47W121.hgt';
export const levelGround = (): Uint8Array => makeHgt(47, -121, 1201, () => 400);

/** A folder with everything that the plan refers to. */
export const makeLake = (): {
  readonly uri: (name: string) => string;
  readonly path: (name: string) => string;
  readonly remove: () => void;
} => {
  const folder = mkdtempSync(join(tmpdir(), 'lake-'));
  writeFileSync(join(folder, HGT_NAME), levelGround());
  writeFileSync(join(folder, 'zones.geojson'), ZONES);
  writeFileSync(join(folder, 'craft.aircraft.yaml'), AIRCRAFT);
  const path = (name: string): string => join(folder, name);
  return {
    path,
    uri: (name) => pathToFileURL(path(name)).href,
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
};

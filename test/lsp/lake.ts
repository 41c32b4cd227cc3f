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
cruise-speed: 10 m/s
climb-rate: 4 m/s
descent-rate: 3 m/s
endurance: 25 min
battery: { nominal: 90 Wh, usable: 80 %, temperature: 20 C }
power: { hover: 150 W, cruise: [160 W at 10 m/s, 200 W at 16 m/s], climb: 200 W }
reserve: 20 %
registration: { number: FA3BITT2RN, expires: 2032-03-31 }
remote-identification: { means: standard, serial: WAYW8BT000002 }
`;

const DAY_MS = 86_400_000;

/** Hours of the lake behind UTC. */
const BEHIND_MS = 8 * 3_600_000;

/**
 * The date at the lake so many days from today. The server goes by the clock of the machine, and tells what is dated
 * ahead of it, so that nothing here can be written down once and for all.
 */
export const day = (days: number): string =>
  new Date(Date.now() - BEHIND_MS + days * DAY_MS).toISOString().slice(0, 10);

/** The flight is tomorrow at noon, so that there is daylight in every season. */
export const FLIGHT_DAY = day(1);

/** A plan over level ground 400 m above the sea, with `altitude` as the point's height. */
export const planAt = (altitude: string): string => `mission: 1
title: Reed-bed survey
purpose: survey for a client
country: US
window: { from: ${FLIGHT_DAY} 12:40 -08:00, until: ${FLIGHT_DAY} 13:10 -08:00 }
aircraft: craft.aircraft.yaml
site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: ${day(-12)} } }
crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }
terrain: N47W121.hgt
preflight: [{ covers: [crew, aircraft, traffic], seen: ${day(0)}, by: pilot }]
restrictions: { none-found: notices of the area, seen: ${day(0)}, by: pilot }
airspace: [zones.geojson]
obstacles: { none-above: 20 m AGL, seen: ${day(-2)}, by: pilot }
people: { none-within: 150 m, seen: ${day(-2)}, by: pilot }
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

export const ZONES = JSON.stringify({
  type: 'FeatureCollection',
  edition: 'made up',
  retrieved: `${day(-2)}T08:00:00Z`,
  covers: [-121, 47, -120, 48],
  features: [],
});

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

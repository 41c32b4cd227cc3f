import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'format-unknown',
  title: 'the file is of a format that is not known',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'The number of the format says how the file is to be read. Another number may mean other rules of reading, so values may have been misunderstood.',
  condition: 'A plan begins with mission: 1, an aircraft file with aircraft: 1, a settings file with settings: 1.',
  mend: 'Write 1 if the file follows this format; else use the release that knows its format.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: `mission: 2
title: Standard test flight
purpose: survey for a client
country: US
window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }
aircraft: craft.aircraft.yaml
site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }
crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }
terrain: ground.tif
airspace: [zones.geojson]
obstacles: { none-above: 20 m AGL, seen: 2026-06-12, by: pilot }
people: { none-within: 150 m, seen: 2026-06-12, by: pilot }
weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s }, visibility: 10 km, cloud-base: none }
lost-link: { after: 5 s, climb-to: 80 m above take-off, then: fly back and land }
route:
  - take-off: home
  - point: east-bank
    at: 47.5, -120.498
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`,
    sound: 'country: US\n',
  },

  *check(slip) {
    const message = `${slip.subject} is of format ${sayWritten(slip.text)}; only format 1 is read, so values may be misunderstood`;
    yield complaint(slip, message, rewrites(slip, 'changes-flight', ['1']));
  },
});

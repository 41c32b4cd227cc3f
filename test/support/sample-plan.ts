/** A plan in which nothing is wrong and most keys are used. */
export const SAMPLE_PLAN = `mission: 1
title: Reed-bed survey, north shore
purpose: habitat survey for a client
country: US
window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }
aircraft: ../fleet/bittern-2.aircraft.yaml
site:
  take-off: { lat: 47.5021, lon: -120.4813, elevation: 402 m }
  permission: { of: shore owner, given: 2026-06-02 }
crew:
  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03 }
terrain: ../world/lakes.tif
airspace: [../world/zones.geojson]
people: { none-within: 150 m, seen: 2026-06-12, by: pilot }
route:
  - take-off: home
  - point: reed-bed
    at: 47.5032, -120.4801
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - area: old-jetty
    inside: { circle: 25 m, around: { lat: 47.5035, lon: -120.4790 } }
    from: 5 m AGL
    to: 40 m AGL
    for: 4 min
    accepts: [{ rule: gust-near-limit, because: short and low, up-to: 11 m/s, until: 2026-06-30 }]
  - land: home
lost-link: { after: 5 s, climb-to: 90 m above take-off, then: fly back and land }
`;

/** What the plan alongside of an example differs in. */
interface Beside {
  readonly pilot?: string;
  readonly observer?: string;
  /** Longitude of its take-off place and of its one point, on the standard plan's parallel. */
  readonly from?: number;
  readonly to?: number;
  /** "06:40" and "07:10" of the standard plan's day. */
  readonly begins?: string;
  readonly ends?: string;
}

/** A world whose folder holds a plan `east.mission.yaml`, for the example of a rule. */
export const besideWorld = ({
  pilot = 'TR',
  observer,
  from = -120.49,
  to = -120.488,
  begins = '06:40',
  ends = '07:10',
}: Beside): string => {
  const observers = observer === undefined ? '' : `, observers: [{ name: ${observer}, stands: beside pilot }]`;
  return `files:
  east.mission.yaml: |
    mission: 1
    title: East of the jetty
    purpose: survey for a client
    country: US
    window: { from: 2026-06-14 ${begins} -07:00, until: 2026-06-14 ${ends} -07:00 }
    aircraft: craft.aircraft.yaml
    site: { take-off: { lat: 47.5, lon: ${from}, elevation: 400 m } }
    crew: { pilot: { by: ${pilot}, stands: take-off }${observers} }
    terrain: ground.tif
    weather: { wind: { from: 240 deg, speed: 3 m/s, gust: 5 m/s } }
    route:
      - take-off: hut
      - point: east-jetty
        at: 47.5, ${to}
        altitude: 60 m AGL
        leg: { speed: 8 m/s over ground }
      - land: hut
        leg: { speed: 8 m/s over ground }
`;
};

/** The own plan of such an example, over the standard head. */
export const OWN_BESIDE = `alongside: [east.mission.yaml]
crew:
  pilot: { by: MK, stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }
`;

import { requireWhole } from '../facts/lacking.ts';
import { type RunwayEntry, runwayEntries } from '../facts/runway-zones.ts';
import { totalLength } from '../geo/interval.ts';
import { defineRule } from '../rulebook/rule.ts';
import { authorisationsFor } from '../rulebook/waived.ts';
import { sayCount, sayDistance } from '../units/say.ts';

const LAW = '18 U.S.C. 39B(b)';

/** The entries airport by airport: crossing runways share most of their zones. */
const byAirport = (entries: readonly RunwayEntry[]): ReadonlyMap<string, readonly RunwayEntry[]> => {
  const airports = new Map<string, RunwayEntry[]>();
  for (const entry of entries) {
    const known = airports.get(entry.runway.airport);
    if (known === undefined) airports.set(entry.runway.airport, [entry]);
    else known.push(entry);
  }
  return airports;
};

export default defineRule({
  visits: 'flight',
  title: 'the flight enters the exclusion zone of a runway',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop' },
  basis: 'law',
  why: 'Before and behind a runway crewed aircraft are low, slow and busy. Flying there without leave is not only a breach of the airspace rules but a crime of its own.',
  condition:
    'With a file in `runways`: no leg, hand-flown area or hold lies inside the rectangle on the centreline of a runway that reaches 1 statute mile (1,609.344 m) beyond each of its ends and a quarter of a statute mile (402.336 m) to each side, at airports with a surface area of class B, C or D. Without such a file nothing is judged here: these rectangles lie inside the surface areas, which `zone-entered-unauthorised` judges.',
  exceptions:
    'An authorisation made out to the airport, or to the zone that the runway file names for it, lifts it for its time.',
  mend: 'Lead the route around, or get the authorisation of air traffic control.',
  sources: [{ cite: LAW, edition: '2018' }],
  ask: { whom: 'air traffic control of the airport', kind: 'airspace' },
  needs: ['airspace'],
  example: {
    faulty: 'runways: runways.geojson\n',
    sound: 'title: Away from the runway\n',
    world:
      'files: { runways.geojson: \'{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"09/27","airport":"Lakes Field","surface-class":"D"},"geometry":{"type":"LineString","coordinates":[[-120.52,47.5],[-120.51,47.5]]}}]}\' }\n',
  },

  *check(flight, tools) {
    const { entries, lacking } = tools.ask(runwayEntries, flight);
    for (const [airport, there] of byAirport(entries)) {
      const [first] = there;
      if (first === undefined) continue;
      const { runway, way } = first;
      const length = totalLength(way.inside);
      const places = new Set(there.map((entry) => entry.way.written)).size;
      const asked = authorisationsFor(tools.plan, (zone) => zone === airport || zone === runway.zone);
      const valid = asked.find(({ mismatch }) => mismatch === undefined)?.waiver;
      const why = asked.map(({ waiver, mismatch }) => `authorisation "${waiver.number?.value ?? ''}" ${mismatch}`);
      yield {
        found: {
          at: way.written,
          subject: `runways of ${airport}`,
          message: `${way.subject} enters the exclusion zone of runway ${runway.name}${length > 0 ? ` for ${sayDistance(length)}` : ''}${places > 1 ? ` (with ${sayCount(places - 1, 'more place')})` : ''}${valid !== undefined || why.length === 0 ? '' : `, and ${why.join('; ')}`}; ${LAW} forbids that without authorisation`,
          place: { at: way.at, ...(way.along === undefined ? {} : { alongM: way.along }) },
          ...(way.inside.length === 0
            ? {}
            : { intervals: way.inside.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to })) }),
          ...(valid === undefined
            ? {}
            : { liftedBy: { kind: 'authorisation' as const, name: valid.number?.value ?? '', span: valid.span } }),
        },
      };
    }
    requireWhole({ lacking });
  },
});

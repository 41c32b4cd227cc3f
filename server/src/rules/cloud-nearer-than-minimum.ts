import { cloudBases } from '../facts/cloud-bases.ts';
import { NotAssessed } from '../facts/fact.ts';
import { highestAltitude } from '../facts/highest-altitude.ts';
import { requireWhole } from '../facts/lacking.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

const LIMIT = metres(500 * LENGTH_UNITS.ft);
const LAW = '14 CFR 107.51(d)';
const SAID = '152.4 m (500 ft)';

export default defineRule({
  visits: 'flight',
  title: 'the flight comes nearer to a cloud than the minimum',
  question: 'What weather?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'An aircraft with people in it may come out of a cloud at any moment. Five hundred feet are the few seconds in which both can still give way.',
  condition:
    'The highest place of the flight is at least 500 ft (152.4 m) below the lowest cloud of any amount, a few as much as an overcast. A height in a report counts from the elevation of its station, one by hand above ground from the take-off place; clouds are taken to be level. `VV002` is a sky that is hidden from 200 ft upwards. Of a forecast the lowest cloud counts that it allows for in the window.',
  exceptions:
    'The distance of 2,000 ft beside a cloud is for the crew to keep: no report tells where a cloud begins. Flight above a cloud is not provided for.',
  mend: 'Fly lower, or wait for the clouds to rise. Below a base of 500 ft above the ground no height is left.',
  otherReading:
    'Read word for word, "500 feet below and 2,000 feet horizontally" would bar every flight under an overcast. This tool takes the distance that fits the position: below, the 500 ft.',
  sources: [{ cite: '14 CFR 107.51(d)', edition: '2026-01-01', for: ['us-part-107'] }],
  needs: ['weather', 'terrain'],
  waivable: ['14 CFR 107.51(d)'],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 10 km, cloud-base: 210 m AGL }\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 10 km, cloud-base: 213 m AGL }\n',
  },

  *check(flight, { ask, plan }) {
    const clouds = ask(cloudBases, flight);
    const [lowest] = [...clouds.bases].sort((one, other) => one.value.base - other.value.base);
    if (lowest === undefined) {
      requireWhole(clouds);
      return;
    }
    const high = ask(highestAltitude, flight);
    const { highest } = high;
    if (highest !== undefined) {
      const room = metres(lowest.value.base - highest.altitude);
      const measured = { value: room, unit: 'm' } as const;
      const limit = { value: LIMIT, unit: 'm', setBy: LAW } as const;
      const place = { at: highest.at, altitudeAmslM: highest.altitude };
      const base = `${sayNumber(lowest.value.base)} m above mean sea level ("${lowest.written}" in ${lowest.by})`;
      const reaches = `${highest.subject} reaches ${sayNumber(highest.altitude)} m above mean sea level`;
      if (!fallsShortOf(room, LIMIT)) {
        yield { margin: { subject: highest.subject, at: highest.written, measured, limit, room: room - LIMIT, place } };
      } else if (lowest.value.kind === 'none below') {
        throw new NotAssessed(`${reaches}, and what is known of the clouds ends at ${base}`);
      } else {
        const distance =
          room < 0
            ? `above the lowest cloud at ${base}`
            : `${sayMetresAgainst(room, LIMIT)} below the lowest cloud at ${base}`;
        yield {
          found: {
            at: lowest.at,
            subject: plan.flights.length > 1 ? `flight ${flight.number}` : 'the flight',
            message: `${reaches}, ${distance}; ${LAW} requires at least ${SAID} below it`,
            measured,
            limit,
            place,
            cause: { at: lowest.at, name: 'the lowest cloud' },
            related: [{ at: highest.written, message: 'the highest place of the flight comes from here' }],
          },
        };
      }
    }
    requireWhole(clouds);
    requireWhole(high);
  },
});

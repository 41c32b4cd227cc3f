import { densityAltitudeOfFlight } from '../facts/density-altitude.ts';
import { requireWhole } from '../facts/lacking.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayMetresAgainst, sayMetresAndFeet, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'the air is thinner than the aircraft may fly in',
  question: 'What weather?',
  level: 'stop',
  basis: 'declared',
  why: 'Thin air carries less. In heat and at height the rotors turn faster for the same lift, the battery empties sooner, and a gust takes the thrust that was left.',
  condition:
    'The density altitude at the highest place of the flight, by the temperature and the QNH of the plan or of a report, is not above `max-density-altitude` of the aircraft file. The temperature is brought up to that place by 6.5 degrees for each kilometre. Where the aircraft file states no such limit there is nothing to compare.',
  mend: 'Fly in the cool of the morning, lower, or with less load.',
  sources: [
    { cite: 'FAA-H-8083-25, chapter 11, density altitude', edition: 'C (2023)', trust: 'secondary copy' },
    { cite: "the aircraft file, by its maker's manual", edition: '1' },
  ],
  needs: ['weather', 'aircraft', 'terrain'],
  example: {
    faulty:
      'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 10 km, cloud-base: none, temperature: 35 C, qnh: 1005 hPa }\n',
    sound:
      'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 10 km, cloud-base: none, temperature: 10 C, qnh: 1020 hPa }\n',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  mass: 1.4 kg\n  size: 0.5 m\n  max-wind: 10 m/s\n  max-density-altitude: 1000 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
    soundWorld:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  mass: 1.4 kg\n  size: 0.5 m\n  max-wind: 10 m/s\n  max-density-altitude: 1000 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(aircraft, { ask, plan }) {
    if (aircraft.maxDensityAltitude === undefined) return;
    const { value: most, span } = aircraft.maxDensityAltitude;
    const limit = { value: most, unit: 'm', setBy: 'the aircraft file (max-density-altitude)' } as const;
    for (const flight of plan.flights) {
      const air = ask(densityAltitudeOfFlight, flight);
      const { densityAltitude, highest, temperature, qnh } = air;
      const measured = { value: densityAltitude, unit: 'm' } as const;
      const place = { at: highest.at, altitudeAmslM: highest.altitude };
      if (!exceeds(densityAltitude, most)) {
        const room = most - densityAltitude;
        yield { margin: { subject: highest.subject, at: highest.written, measured, limit, room, place } };
      } else {
        yield {
          found: {
            at: temperature.at,
            subject: plan.flights.length > 1 ? `flight ${flight.number}` : 'the flight',
            message: `at ${sayNumber(highest.altitude)} m above mean sea level, in ${sayNumber(temperature.value)} C where it was measured and a QNH of ${sayNumber(qnh.value / 100)} hPa, the density altitude is ${sayMetresAgainst(densityAltitude, most)}; the aircraft file (max-density-altitude) allows at most ${sayMetresAndFeet(most)}`,
            measured,
            limit,
            place,
            cause: { at: temperature.at, name: 'the temperature' },
            related: [{ at: span, message: 'the limit stands here' }],
          },
        };
      }
      requireWhole(air);
    }
  },
});

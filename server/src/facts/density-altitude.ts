import type { Flight } from '../plan/model.ts';
import { aboveSea, type Metres, type MetresAboveSea } from '../units/frames.ts';
import { densityAltitude, pressureAltitudeAt, standardPressure, temperatureAt } from '../units/standard-atmosphere.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { type HighPlace, highestAltitude } from './highest-altitude.ts';
import { orLacking, type Partly } from './lacking.ts';
import type { Stated } from './stated-weather.ts';
import { takeOffElevation } from './take-off-elevation.ts';
import { qnhInWindow, temperatureInWindow } from './weather-in-window.ts';

export interface ThinAir extends Partly {
  readonly densityAltitude: Metres;
  readonly highest: HighPlace;
  readonly temperature: Stated<number>;
  readonly qnh: Stated<number>;
}

/** Where a temperature was measured: at its station, or at the take-off place. */
export const measuredAt = (temperature: Stated<number>, flight: Flight, tools: FactTools): MetresAboveSea => {
  if (temperature.station === undefined) return tools.ask(takeOffElevation, flight.first).value;
  const { elevation, code } = temperature.station;
  if (elevation === undefined)
    throw new NotAssessed(`the elevation of station ${code?.value ?? ''} is missing or could not be read`);
  return aboveSea(elevation.value);
};

/**
 * Density altitude at the highest place of a flight: pressure from the QNH, temperature brought up from where it was
 * measured by the standard lapse. Of several values the warmest and the lowest pressure count. Source: FAA-H-8083-25
 * (Pilot's Handbook of Aeronautical Knowledge) chapter 11.
 */
export const densityAltitudeOfFlight = defineFact({
  name: 'density-altitude',
  derive: (flight: Flight, tools: FactTools): ThinAir => {
    const temperatures = tools.ask(temperatureInWindow, tools.plan);
    const pressures = tools.ask(qnhInWindow, tools.plan);
    const high = tools.ask(highestAltitude, flight);
    const missing = [...temperatures.lacking, ...pressures.lacking, ...high.lacking];
    const [lacks] = missing;
    const { highest } = high;
    const [qnh] = [...pressures.values].sort((one, other) => one.value - other.value);
    if (temperatures.values.length === 0 || qnh === undefined || highest === undefined) {
      throw new NotAssessed(lacks?.missing ?? 'the flight has no place whose altitude is known', lacks?.due);
    }
    const pressure = standardPressure(pressureAltitudeAt(highest.altitude, qnh.value));
    let worst: ThinAir | undefined;
    const lacking = [...missing];
    for (const temperature of temperatures.values) {
      const from = orLacking(() => measuredAt(temperature, flight, tools));
      if (isMissing(from)) {
        lacking.push(from);
        continue;
      }
      const there = densityAltitude(pressure, temperatureAt(temperature.value, from.known, highest.altitude));
      if (worst === undefined || there > worst.densityAltitude) {
        worst = { densityAltitude: there, highest, temperature, qnh, lacking };
      }
    }
    if (worst === undefined) throw new NotAssessed(lacking[0]?.missing ?? 'no temperature is known', lacking[0]?.due);
    return worst;
  },
});

import { readHeight } from '../plan/scalars/height.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { type Metres, metres } from '../units/frames.ts';
import { type Json, Unusable } from './geojson-features.ts';
import type { Zone, ZoneEdge } from './zone.ts';

/** Words for the two ends that are no number (ICAO Doc 8400: SFC, GND, UNL, from memory). */
const SURFACE: ReadonlySet<string> = new Set(['surface', 'sfc', 'gnd']);
const UNLIMITED: ReadonlySet<string> = new Set(['unlimited', 'unl']);

/** Flight levels are hundreds of feet (ICAO Annex 2, from memory); beyond 660 nothing is published. */
const FLIGHT_LEVEL = /^fl ?(\d{1,3})$/;
const HIGHEST_LEVEL = 660;

/** Metres of pressure altitude of a flight level. */
export const pressureAltitudeOf = (level: number): Metres => metres(level * 100 * LENGTH_UNITS.ft);

/**
 * Reads `surface`, `1500 ft AMSL`, `120 m AGL`, `FL 65`, `unlimited`. Throws `Unusable`, whose sentence names the end of
 * the zone.
 */
export const readEdge = (written: Json | undefined, end: 'floor' | 'ceiling'): ZoneEdge => {
  if (typeof written !== 'string') {
    throw new Unusable(
      written === undefined || written === null
        ? `has no ${end}`
        : `has a ${end} that is no text with unit and datum, such as "1500 ft AMSL"`,
    );
  }
  const word = written.trim().toLowerCase();
  if (SURFACE.has(word)) return 'surface';
  if (UNLIMITED.has(word)) return 'unlimited';
  const level = FLIGHT_LEVEL.exec(word)?.[1];
  if (level !== undefined && Number(level) <= HIGHEST_LEVEL)
    return { pressureAltitude: pressureAltitudeOf(Number(level)) };
  const read = readHeight(written, ['AGL', 'AMSL']);
  if (!read.ok)
    throw new Unusable(`has a ${end} "${written.slice(0, 40)}" that could not be read; write it as in "1500 ft AMSL"`);
  if ('aboveGround' in read.value || 'aboveSea' in read.value) return read.value;
  throw new Unusable(`has a ${end} counted from neither ground nor sea`);
};

/** Two edges in one frame whose order is wrong; edges in different frames cannot be compared without ground and weather. */
const isUpsideDown = (floor: ZoneEdge, ceiling: ZoneEdge): boolean => {
  if (floor === 'unlimited' || ceiling === 'surface') return true;
  if (floor === 'surface' || ceiling === 'unlimited') return false;
  if ('aboveSea' in floor && 'aboveSea' in ceiling) return floor.aboveSea >= ceiling.aboveSea;
  if ('aboveGround' in floor && 'aboveGround' in ceiling) return floor.aboveGround >= ceiling.aboveGround;
  if ('aboveEllipsoid' in floor && 'aboveEllipsoid' in ceiling) return floor.aboveEllipsoid >= ceiling.aboveEllipsoid;
  if ('pressureAltitude' in floor && 'pressureAltitude' in ceiling)
    return floor.pressureAltitude >= ceiling.pressureAltitude;
  return false;
};

/** Throws `Unusable` where the floor lies at or above the ceiling. */
export const refuseUpsideDown = (floor: ZoneEdge, ceiling: ZoneEdge): void => {
  if (isUpsideDown(floor, ceiling)) throw new Unusable('has its floor at or above its ceiling');
};

/** A cell is there at every height: what is above the height it grants is not granted. Throws `Unusable`. */
export const grantedCell = (grid: string, upTo: ZoneEdge): Pick<Zone, 'floor' | 'ceiling' | 'grants'> => {
  if (typeof upTo === 'string' || !('aboveGround' in upTo || 'aboveSea' in upTo)) {
    throw new Unusable('is a cell whose ceiling is not above ground or sea, such as "200 ft AGL"');
  }
  return { floor: 'surface', ceiling: 'unlimited', grants: { grid, upTo } };
};

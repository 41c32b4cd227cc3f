import geodesic from 'geographiclib-geodesic';
import { type Degrees, degrees, type LonLat, lonLat, type Metres, metres } from '../units/frames.ts';
import { wrapLongitude } from './box.ts';

/**
 * Geodesics on the WGS 84 ellipsoid, by GeographicLib (C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87,
 * 43-55, 2013; error below 15 nm). Azimuths in degrees clockwise from true north.
 */
const WGS84 = geodesic.Geodesic.WGS84;

/** The way of a leg over the ground: the geodesic between two places. */
export interface LegPath {
  readonly from: LonLat;
  readonly to: LonLat;
  /** Length on the ellipsoid in metres. */
  readonly length: Metres;
  /** Azimuth at the start. Zero for a leg without length. */
  readonly course: Degrees;
  /** The place a number of metres from the start. */
  at(along: number): LonLat;
}

/** Length in metres and azimuth at the start of the geodesic from one place to another. */
export const inverse = (from: LonLat, to: LonLat): { readonly length: Metres; readonly course: Degrees } => {
  const result = WGS84.Inverse(from.lat, from.lon, to.lat, to.lon);
  const course = result.azi1 ?? 0;
  return { length: metres(result.s12 ?? 0), course: degrees(course < 0 ? course + 360 : course) };
};

/** Length in metres of the geodesic between two places. */
export const distance = (from: LonLat, to: LonLat): Metres => inverse(from, to).length;

/** The place that lies a number of metres away in a direction. */
export const destination = (from: LonLat, course: number, length: number): LonLat => {
  const result = WGS84.Direct(from.lat, from.lon, course, length);
  return lonLat(wrapLongitude(result.lon2 ?? 0), result.lat2 ?? 0);
};

export const legPath = (from: LonLat, to: LonLat): LegPath => {
  const { length, course } = inverse(from, to);
  const line = WGS84.InverseLine(from.lat, from.lon, to.lat, to.lon);
  return {
    from,
    to,
    length,
    course,
    at: (along) => {
      if (along <= 0) return from;
      if (along >= length) return to;
      const result = line.Position(along);
      return lonLat(wrapLongitude(result.lon2 ?? 0), result.lat2 ?? 0);
    },
  };
};

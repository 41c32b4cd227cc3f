import { type LonLat, lonLat } from '../units/frames.ts';
import { wrapLongitude } from './box.ts';
import { destination, inverse } from './geodesy.ts';
import type { PlanePoint } from './straight-pieces.ts';

/** Places as metres east (x) and north (y) of a centre. */
export interface FlatFrame {
  readonly centre: LonLat;
  place(at: LonLat): PlanePoint;
  back(point: PlanePoint): LonLat;
}

const RADIANS = Math.PI / 180;

/**
 * The azimuthal equidistant projection of the ellipsoid around a centre (J. P. Snyder, Map Projections: A Working Manual,
 * USGS Professional Paper 1395, 1987, p. 191). Distances and directions from the centre are true; others are too long by
 * about a sixth of the square of their distance from the centre over the radius of the Earth: 4 mm in a kilometre at 30 km.
 */
export const flatFrame = (centre: LonLat): FlatFrame => ({
  centre,
  place: (at) => {
    const { length, course } = inverse(centre, at);
    return { x: length * Math.sin(course * RADIANS), y: length * Math.cos(course * RADIANS) };
  },
  back: ({ x, y }) => destination(centre, Math.atan2(x, y) / RADIANS, Math.hypot(x, y)),
});

/** Snapped to a tenth of a millimetre, so that a longitude written a whole turn further is the same number. */
const snapped = (degrees: number): number => Math.round(degrees * 1e9) / 1e9;

/**
 * The middle of the box around some places, which must lie within a hemisphere. It does not depend on their order nor on
 * the turn that their longitudes are written in.
 */
export const middleOf = (places: readonly LonLat[]): LonLat | undefined => {
  const corners = places.map(({ lon, lat }) => ({ lon: snapped(wrapLongitude(lon)), lat: snapped(lat) }));
  const [first] = corners;
  if (first === undefined) return undefined;
  let reference = first;
  for (const corner of corners) {
    if (corner.lat < reference.lat || (corner.lat === reference.lat && corner.lon < reference.lon)) reference = corner;
  }
  const steps = corners.map(({ lon }) => snapped(wrapLongitude(lon - reference.lon)));
  let [west, east, south, north] = [0, 0, reference.lat, reference.lat];
  corners.forEach(({ lat }, i) => {
    west = Math.min(west, steps[i] ?? 0);
    east = Math.max(east, steps[i] ?? 0);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  });
  return lonLat(wrapLongitude(reference.lon + (west + east) / 2), (south + north) / 2);
};

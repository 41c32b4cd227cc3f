/**
 * The part of the package that sums the field from coefficients. The package declares only its front door, which picks a
 * model by a `Date`; this part needs none.
 */
declare module 'geomagnetism/lib/model.js' {
  interface FieldCoefficients {
    /** Degree of the series. */
    readonly n_max: number;
    /** In nT, by index n(n + 1) / 2 + m. */
    readonly main_field_coeff_g: readonly number[];
    readonly main_field_coeff_h: readonly number[];
  }

  interface MagneticField {
    /** Horizontal intensity in nT. */
    readonly h: number;
    /** Declination in degrees, east positive. */
    readonly decl: number;
  }

  export default class Model {
    constructor(coefficients: FieldCoefficients);
    /** The field at latitude and longitude in degrees and height above the WGS 84 ellipsoid in kilometres. */
    point(at: readonly [lat: number, lon: number, height: number]): MagneticField;
  }
}

/**
 * Numbers that know their unit, and heights that know their frame.
 *
 * These are the only casts in the project. A height above ground and a height above the sea are different types without
 * a shared number field, so that subtracting one from the other does not compile.
 */
declare const unit: unique symbol;
type In<U extends string> = number & { readonly [unit]: U };

export type Metres = In<'m'>;
export type MetresPerSecond = In<'m/s'>;
export type Seconds = In<'s'>;
export type Kilograms = In<'kg'>;
export type Celsius = In<'C'>;
export type Pascals = In<'Pa'>;
export type Joules = In<'J'>;
export type Watts = In<'W'>;
/** A share of a whole, from 0 to 1. */
export type Share = In<'of 1'>;
/** People, or things, on a square kilometre. */
export type PerSquareKilometre = In<'/km2'>;
export type SquareMetres = In<'m2'>;
/** Degrees of arc: latitude, longitude, or a direction clockwise from true north. */
export type Degrees = In<'deg'>;
/** Milliseconds since 1970-01-01T00:00:00Z. */
export type Instant = In<'ms since 1970'>;

export type MetresAboveGround = In<'m above ground'>;
/** Above mean sea level (orthometric, the geoid of the source). */
export type MetresAboveSea = In<'m above mean sea level'>;
export type MetresAboveTakeOff = In<'m above take-off'>;
/** Above the WGS 84 ellipsoid, as satellite positioning gives it raw. */
export type MetresAboveEllipsoid = In<'m above ellipsoid'>;

/** A height in the frame it was written in. */
export type Height =
  | { readonly aboveGround: MetresAboveGround }
  | { readonly aboveSea: MetresAboveSea }
  | { readonly aboveTakeOff: MetresAboveTakeOff }
  | { readonly aboveEllipsoid: MetresAboveEllipsoid };

/** A place on the WGS 84 ellipsoid. Longitude first in code, as in GeoJSON. */
export interface LonLat {
  readonly lon: Degrees;
  readonly lat: Degrees;
}

export const metres = (n: number): Metres => n as Metres;
export const metresPerSecond = (n: number): MetresPerSecond => n as MetresPerSecond;
export const seconds = (n: number): Seconds => n as Seconds;
export const kilograms = (n: number): Kilograms => n as Kilograms;
export const celsius = (n: number): Celsius => n as Celsius;
export const pascals = (n: number): Pascals => n as Pascals;
export const joules = (n: number): Joules => n as Joules;
export const watts = (n: number): Watts => n as Watts;
export const share = (n: number): Share => n as Share;
export const perSquareKilometre = (n: number): PerSquareKilometre => n as PerSquareKilometre;
export const squareMetres = (n: number): SquareMetres => n as SquareMetres;
export const degrees = (n: number): Degrees => n as Degrees;
export const instant = (n: number): Instant => n as Instant;
export const aboveGround = (n: number): MetresAboveGround => n as MetresAboveGround;
export const aboveSea = (n: number): MetresAboveSea => n as MetresAboveSea;
export const aboveTakeOff = (n: number): MetresAboveTakeOff => n as MetresAboveTakeOff;
export const aboveEllipsoid = (n: number): MetresAboveEllipsoid => n as MetresAboveEllipsoid;
export const lonLat = (lon: number, lat: number): LonLat => ({ lon: degrees(lon), lat: degrees(lat) });

/** Height above the sea minus ground above the sea: the height above that ground. */
export const overGround = (craft: MetresAboveSea, ground: MetresAboveSea): MetresAboveGround =>
  (craft - ground) as MetresAboveGround;

/** Ground above the sea plus a height above that ground: the height above the sea. */
export const onGround = (ground: MetresAboveSea, height: MetresAboveGround): MetresAboveSea =>
  (ground + height) as MetresAboveSea;

/** Take-off place above the sea plus a height above it: the height above the sea. */
export const onTakeOff = (takeOff: MetresAboveSea, height: MetresAboveTakeOff): MetresAboveSea =>
  (takeOff + height) as MetresAboveSea;

/** Height above the ellipsoid minus the height of mean sea level above the ellipsoid there: the height above the sea. */
export const overGeoid = (height: MetresAboveEllipsoid, undulation: Metres): MetresAboveSea =>
  (height - undulation) as MetresAboveSea;

/** Height above the sea minus the take-off place above the sea: the height above take-off. */
export const overTakeOff = (craft: MetresAboveSea, takeOff: MetresAboveSea): MetresAboveTakeOff =>
  (craft - takeOff) as MetresAboveTakeOff;

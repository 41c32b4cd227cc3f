import {
  type AngleUnit,
  celsiusOfFahrenheit,
  DENSITY_UNITS,
  type DensityUnit,
  type Dimension,
  ENERGY_UNITS,
  type EnergyUnit,
  LENGTH_UNITS,
  type LengthUnit,
  MASS_UNITS,
  type MassUnit,
  POWER_UNITS,
  type PowerUnit,
  PRESSURE_UNITS,
  type PressureUnit,
  SHARE_UNITS,
  type ShareUnit,
  SPEED_UNITS,
  type SpeedUnit,
  SURFACE_UNITS,
  type SurfaceUnit,
  type TemperatureUnit,
  TIME_UNITS,
  type TimeUnit,
  type UnitName,
} from '../../units/convert.ts';
import {
  type Celsius,
  celsius,
  type Degrees,
  degrees,
  type Joules,
  joules,
  type Kilograms,
  kilograms,
  type Metres,
  type MetresPerSecond,
  metres,
  metresPerSecond,
  type Pascals,
  type PerSquareKilometre,
  pascals,
  perSquareKilometre,
  type Seconds,
  type Share,
  type SquareMetres,
  seconds,
  share,
  squareMetres,
  type Watts,
  watts,
} from '../../units/frames.ts';

/** The unit names and the SI number of each dimension. */
export interface Dimensions {
  readonly length: { readonly unit: LengthUnit; readonly value: Metres };
  readonly speed: { readonly unit: SpeedUnit; readonly value: MetresPerSecond };
  readonly time: { readonly unit: TimeUnit; readonly value: Seconds };
  readonly mass: { readonly unit: MassUnit; readonly value: Kilograms };
  readonly temperature: { readonly unit: TemperatureUnit; readonly value: Celsius };
  readonly angle: { readonly unit: AngleUnit; readonly value: Degrees };
  readonly pressure: { readonly unit: PressureUnit; readonly value: Pascals };
  readonly energy: { readonly unit: EnergyUnit; readonly value: Joules };
  readonly power: { readonly unit: PowerUnit; readonly value: Watts };
  readonly share: { readonly unit: ShareUnit; readonly value: Share };
  readonly density: { readonly unit: DensityUnit; readonly value: PerSquareKilometre };
  readonly surface: { readonly unit: SurfaceUnit; readonly value: SquareMetres };
}

export type UnitOf<D extends Dimension> = Dimensions[D]['unit'];

/**
 * How units are written, in lower case, since case is not told apart: `NM` and `nm` are nautical miles, `M` is metres.
 * Besides the symbols of ISO 80000-3 and ICAO Annex 5 (from memory) stand the spellings that weather reports, manuals
 * and flight forms use (common practice, no source). Not here, because they mean two things: `miles`, `ms`, `'`.
 */
const WORDS: { readonly [D in Dimension]: Readonly<Record<UnitOf<D>, readonly string[]>> } = {
  length: {
    m: ['m', 'metre', 'metres', 'meter', 'meters'],
    mm: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
    cm: ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
    km: ['km', 'kilometre', 'kilometres', 'kilometer', 'kilometers'],
    ft: ['ft', 'foot', 'feet'],
    mi: ['mi', 'sm'],
    NM: ['nm', 'nmi'],
  },
  speed: {
    'm/s': ['m/s', 'mps', 'm s-1'],
    'km/h': ['km/h', 'kmh', 'kph'],
    kt: ['kt', 'kts', 'kn', 'knot', 'knots'],
    mph: ['mph', 'mi/h'],
  },
  time: {
    s: ['s', 'sec', 'second', 'seconds'],
    min: ['min', 'mins', 'minute', 'minutes'],
    h: ['h', 'hr', 'hrs', 'hour', 'hours'],
    d: ['d', 'day', 'days'],
  },
  mass: {
    kg: ['kg', 'kilogram', 'kilograms'],
    g: ['g', 'gram', 'grams'],
    lb: ['lb', 'lbs', 'pound', 'pounds'],
    oz: ['oz', 'ounce', 'ounces'],
  },
  temperature: {
    C: ['c', '°c', 'deg c', 'celsius'],
    F: ['f', '°f', 'deg f', 'fahrenheit'],
  },
  angle: { deg: ['deg', 'degs', 'degree', 'degrees', '°'] },
  pressure: { hPa: ['hpa', 'mb', 'mbar'], inHg: ['inhg', 'in hg'] },
  energy: { Wh: ['wh', 'w h', 'watt-hour', 'watt-hours'], kWh: ['kwh', 'kw h'] },
  power: { W: ['w', 'watt', 'watts'], kW: ['kw'] },
  share: { '%': ['%', 'percent', 'per cent', 'pct'] },
  density: { '/km2': ['/km2', '/km²', 'per km2', 'per km²', 'people/km2', 'people/km²'] },
  surface: { m2: ['m2', 'm²', 'sq m'], cm2: ['cm2', 'cm²', 'sq cm'] },
};

const unitsByWord = <D extends Dimension>(dimension: D): ReadonlyMap<string, UnitOf<D>> => {
  const entries = Object.entries(WORDS[dimension]) as [UnitOf<D>, readonly string[]][];
  return new Map(entries.flatMap(([unit, words]) => words.map((word): [string, UnitOf<D>] => [word, unit])));
};

const BY_WORD: { readonly [D in Dimension]: ReadonlyMap<string, UnitOf<D>> } = {
  length: unitsByWord('length'),
  speed: unitsByWord('speed'),
  time: unitsByWord('time'),
  mass: unitsByWord('mass'),
  temperature: unitsByWord('temperature'),
  angle: unitsByWord('angle'),
  pressure: unitsByWord('pressure'),
  energy: unitsByWord('energy'),
  power: unitsByWord('power'),
  share: unitsByWord('share'),
  density: unitsByWord('density'),
  surface: unitsByWord('surface'),
};

/** The unit that a text (without blanks at its ends) names, in any case; undefined for another. */
export const unitNamed = <D extends Dimension>(dimension: D, text: string): UnitOf<D> | undefined =>
  BY_WORD[dimension].get(text.toLowerCase().replace('º', '°'));

/** Whether a text names a unit of any dimension. */
export const isUnit = (text: string): boolean =>
  (Object.keys(BY_WORD) as readonly Dimension[]).some((dimension) => unitNamed(dimension, text) !== undefined);

/** Every way to write a unit of a dimension. */
export const unitWords = (dimension: Dimension): readonly string[] => [...BY_WORD[dimension].keys()];

const FACTORS: Readonly<Record<Exclude<UnitName, TemperatureUnit | AngleUnit>, number>> = {
  ...LENGTH_UNITS,
  ...SPEED_UNITS,
  ...TIME_UNITS,
  ...MASS_UNITS,
  ...PRESSURE_UNITS,
  ...ENERGY_UNITS,
  ...POWER_UNITS,
  ...SHARE_UNITS,
  ...DENSITY_UNITS,
  ...SURFACE_UNITS,
};

const BRANDED: { readonly [D in Dimension]: (value: number) => Dimensions[D]['value'] } = {
  length: metres,
  speed: metresPerSecond,
  time: seconds,
  mass: kilograms,
  temperature: celsius,
  angle: degrees,
  pressure: pascals,
  energy: joules,
  power: watts,
  share,
  density: perSquareKilometre,
  surface: squareMetres,
};

const siNumber = (number: number, unit: UnitName): number => {
  if (unit === 'F') return celsiusOfFahrenheit(number);
  return unit === 'C' || unit === 'deg' ? number : number * FACTORS[unit];
};

/** A number in a unit, in SI: m, m/s, s, kg, degrees Celsius, degrees of arc, Pa, J, W, a share of 1, a number on a km2, m2. */
export const inSi = <D extends Dimension>(dimension: D, number: number, unit: UnitOf<D>): Dimensions[D]['value'] =>
  BRANDED[dimension](siNumber(number, unit));

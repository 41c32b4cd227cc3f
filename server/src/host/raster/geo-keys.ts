import { Unreadable } from '../unreadable.ts';
import type { ByteSource } from './byte-source.ts';
import { readNumbers, readText, type TiffDirectory } from './tiff-directory.ts';

/** The keys of a GeoTIFF (OGC 19-008r4, GeoTIFF 1.1): numbers and texts by key number. */
export interface GeoKeys {
  readonly numbers: ReadonlyMap<number, number>;
  readonly texts: ReadonlyMap<number, string>;
}

const DIRECTORY_TAG = 34735;
const DOUBLES_TAG = 34736;
const TEXTS_TAG = 34737;
const MOST_KEYS = 500;

/** Reads the keys of a file; none at all gives empty maps. Rejects with `Unreadable`. */
export const readGeoKeys = async (source: ByteSource, directory: TiffDirectory): Promise<GeoKeys> => {
  const numbers = new Map<number, number>();
  const texts = new Map<number, string>();
  const field = directory.field(DIRECTORY_TAG);
  if (field === undefined || field.count < 4) return { numbers, texts };
  const order = directory.littleEndian;
  const list = await readNumbers(source, order, field, 0, Math.min(field.count, 4 + 4 * MOST_KEYS));
  const doublesField = directory.field(DOUBLES_TAG);
  const doubles =
    doublesField === undefined
      ? []
      : await readNumbers(source, order, doublesField, 0, Math.min(doublesField.count, 4 * MOST_KEYS));
  const textsField = directory.field(TEXTS_TAG);
  const text = textsField === undefined ? '' : await readText(source, textsField);
  const keys = Math.min(list[3] ?? 0, MOST_KEYS, Math.floor(list.length / 4) - 1);
  for (let i = 1; i <= keys; i++) {
    const [key = 0, location = 0, count = 0, value = 0] = list.slice(i * 4, i * 4 + 4);
    if (location === 0) numbers.set(key, value);
    if (location === DOUBLES_TAG) numbers.set(key, doubles[value] ?? Number.NaN);
    if (location === TEXTS_TAG) texts.set(key, text.slice(value, value + count).replace(/\|$/, ''));
  }
  return { numbers, texts };
};

const MODEL_TYPE = 1024;
const GEODETIC_CRS = 2048;
const ANGULAR_UNITS = 2054;
const PROJECTED_CRS = 3072;
const PROJECTION = 3074;
const LINEAR_UNITS = 3076;
const VERTICAL_CRS = 4096;
const VERTICAL_CITATION = 4097;
const VERTICAL_DATUM = 4098;
const VERTICAL_UNITS = 4099;
const USER_DEFINED = 32767;
const METRE = 9001;
const DEGREE = 9102;

/**
 * Geographic systems with a height above the ellipsoid as their third axis, and the system of their first two axes; of the
 * realisations of the terrestrial reference frame, which agree with WGS 84 within some decimetres, WGS 84 (from memory).
 */
const THREE_DIMENSIONAL: ReadonlyMap<number, number> = new Map([
  [4979, 4326],
  [4937, 4258],
  [4957, 4269],
  [6319, 6318],
  [4955, 4617],
  [4939, 4283],
  [7843, 7844],
  [4959, 4167],
  [7912, 4326],
  [9989, 4326],
]);

/** The refusal of heights above the ellipsoid where nothing brings them to mean sea level. */
export const ellipsoidal = (): Unreadable =>
  new Unreadable(
    'gives heights above the ellipsoid, which differ from heights above mean sea level by up to 106 m; name a geoid grid in the plan (geoid) or convert it to heights above mean sea level first',
  );

/** The zone of a system that is described by its projection alone (GeoTIFF 1.0 section 6.3.3.2: UTM zones). */
const utmCodeOf = (projection: number, geodetic: number | undefined): number | undefined => {
  if (geodetic !== 4326) return undefined;
  if (projection > 16000 && projection <= 16060) return 32600 + projection - 16000;
  if (projection > 16100 && projection <= 16160) return 32700 + projection - 16100;
  return undefined;
};

/** The EPSG code of the system that the pixels are placed in. Throws `Unreadable` where the file names none. */
export const horizontalCodeOf = ({ numbers }: GeoKeys): number => {
  const model = numbers.get(MODEL_TYPE);
  const projected = numbers.get(PROJECTED_CRS);
  const geodetic = numbers.get(GEODETIC_CRS);
  if (model === 3) throw new Unreadable('is in geocentric coordinates, which are not read');
  if (model === 1 || (model === undefined && projected !== undefined)) {
    const linear = numbers.get(LINEAR_UNITS);
    if (linear !== undefined && linear !== METRE)
      throw new Unreadable('is placed in a unit other than metres, which is not read');
    if (projected !== undefined && projected !== USER_DEFINED && projected !== 0) return projected;
    const code = utmCodeOf(numbers.get(PROJECTION) ?? 0, geodetic);
    if (code !== undefined) return code;
    throw new Unreadable('describes a coordinate system of its own without an EPSG code, which is not read');
  }
  if (geodetic === undefined) throw new Unreadable('does not say in which coordinate system it is');
  const angular = numbers.get(ANGULAR_UNITS);
  if (angular !== undefined && angular !== DEGREE)
    throw new Unreadable('is placed in a unit other than degrees, which is not read');
  if (geodetic === USER_DEFINED) {
    throw new Unreadable('describes a coordinate system of its own without an EPSG code, which is not read');
  }
  return THREE_DIMENSIONAL.get(geodetic) ?? geodetic;
};

/** What a raster's numbers are heights above, and how many metres one of them is. */
export interface VerticalTerms {
  readonly metresPerUnit: number;
  readonly above: 'sea' | 'ellipsoid';
  /** What had to be taken for granted. */
  readonly notes: readonly string[];
}

const FOOT = 0.3048;
/** The US survey foot, 1200/3937 m exactly (NIST SP 811, from memory). */
const SURVEY_FOOT = 1200 / 3937;

/** Height systems above mean sea level and the unit of each (EPSG dataset, from memory). */
const ABOVE_SEA: ReadonlyMap<number, number> = new Map([
  [5714, 1],
  [5773, 1],
  [3855, 1],
  [5798, 1],
  [5703, 1],
  [8228, FOOT],
  [6360, SURVEY_FOOT],
  [5701, 1],
  [5621, 1],
  [5730, 1],
  [9390, 1],
  [5720, 1],
  [5709, 1],
  [5710, 1],
  [5728, 1],
  [5729, 1],
  [5783, 1],
  [7837, 1],
  [5613, 1],
  [3900, 1],
  [5776, 1],
  [5941, 1],
  [5711, 1],
  [7839, 1],
  [5713, 1],
  [6647, 1],
  [5103, 1],
]);

/** Vertical datums, for files that describe their height system by its datum. */
const SEA_DATUMS: ReadonlySet<number> = new Set([5100, 5103, 5171, 1027, 5203, 5101, 5129, 1205]);

const UNITS: ReadonlyMap<number, number> = new Map([
  [9001, 1],
  [9002, FOOT],
  [9003, SURVEY_FOOT],
]);

const unitOf = (code: number): number => {
  const unit = UNITS.get(code);
  if (unit === undefined)
    throw new Unreadable(`gives heights in unit EPSG:${code}, which is not read (metres and feet are)`);
  return unit;
};

/** In GeoTIFF 1.0 (section 6.3.4.1) the vertical codes 5001 to 5099 are heights above an ellipsoid. */
const isEllipsoidal = (code: number): boolean => THREE_DIMENSIONAL.has(code) || (code >= 5001 && code <= 5099);

/**
 * What the numbers of a raster mean. Throws `Unreadable` for datums that are not on the list: a wrong guess puts the ground
 * tens of metres off.
 */
export const verticalTermsOf = ({ numbers, texts }: GeoKeys): VerticalTerms => {
  const system = numbers.get(VERTICAL_CRS);
  const datum = numbers.get(VERTICAL_DATUM);
  const unitCode = numbers.get(VERTICAL_UNITS);
  const unit = unitCode === undefined || unitCode === 0 ? undefined : unitOf(unitCode);
  const isThreeDimensional = THREE_DIMENSIONAL.has(numbers.get(GEODETIC_CRS) ?? 0);
  const namesEllipsoid = isEllipsoidal(system ?? 0) || /ellipsoid/i.test(texts.get(VERTICAL_CITATION) ?? '');
  if (isThreeDimensional || namesEllipsoid) {
    if (ABOVE_SEA.has(system ?? 0) || SEA_DATUMS.has(datum ?? 0)) {
      throw new Unreadable('says of its heights both that they are above the ellipsoid and above mean sea level');
    }
    return { metresPerUnit: unit ?? 1, above: 'ellipsoid', notes: [] };
  }
  if (system !== undefined && system !== 0 && system !== USER_DEFINED) {
    const usual = ABOVE_SEA.get(system);
    if (usual === undefined) {
      throw new Unreadable(
        `gives heights in EPSG:${system}, a height system that is not read; convert it to heights above mean sea level`,
      );
    }
    return { metresPerUnit: unit ?? usual, above: 'sea', notes: [] };
  }
  if (datum !== undefined && datum !== 0 && datum !== USER_DEFINED) {
    if (!SEA_DATUMS.has(datum)) throw new Unreadable(`gives heights above EPSG datum ${datum}, which is not read`);
    return {
      metresPerUnit: unit ?? 1,
      above: 'sea',
      notes: unit === undefined ? ['unit of height not stated, taken as metres'] : [],
    };
  }
  if (system === USER_DEFINED) throw new Unreadable('describes a height system of its own, which is not read');
  if (unit !== undefined) {
    return { metresPerUnit: unit, above: 'sea', notes: ['vertical datum not stated, taken as mean sea level'] };
  }
  return { metresPerUnit: 1, above: 'sea', notes: ['vertical datum not stated, taken as metres above mean sea level'] };
};

/** Names of units of height as writers of rasters put them beside a band. */
const UNIT_NAMES: ReadonlyMap<string, number> = new Map([
  ['m', 1],
  ['metre', 1],
  ['metres', 1],
  ['meter', 1],
  ['meters', 1],
  ['ft', FOOT],
  ['foot', FOOT],
  ['feet', FOOT],
  ['us-ft', SURVEY_FOOT],
  ['ftus', SURVEY_FOOT],
  ['us survey foot', SURVEY_FOOT],
  ['us survey feet', SURVEY_FOOT],
]);

/** Metres in a unit that a file names in words. Throws `Unreadable` for any other word. */
export const unitNamed = (name: string): number => {
  const unit = UNIT_NAMES.get(name.trim().toLowerCase());
  if (unit === undefined) throw new Unreadable('names a unit of height that is not read (metres and feet are)');
  return unit;
};

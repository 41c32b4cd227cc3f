import type { Box } from '../../geo/box.ts';
import { sayNumber } from '../../units/say.ts';
import { Unreadable } from '../unreadable.ts';
import { bringToSea } from './bring-to-sea.ts';
import type { ByteSource } from './byte-source.ts';
import { crsOf } from './crs.ts';
import { ellipsoidal, type GeoKeys, horizontalCodeOf, readGeoKeys, unitNamed, verticalTermsOf } from './geo-keys.ts';
import {
  cellAt,
  heightOfHorizontalError,
  isGround,
  type Lattice,
  MOST_NODES,
  middleOf,
  nodesFor,
  type RasterPart,
  type ReadTerms,
  statedError,
} from './raster-part.ts';
import { readDirectory, readNumbers, readText, type TiffDirectory } from './tiff-directory.ts';
import { type HeightLayout, readLayout, readPixels } from './tiff-heights.ts';

const PIXEL_SCALE = 33550;
const TIE_POINTS = 33922;
const TRANSFORMATION = 34264;
const RASTER_TYPE = 1025;
const PIXEL_IS_POINT = 2;
const NO_DATA = 42113;
const METADATA = 42112;
const DATE_TIME = 306;

/** Everything about a raster but its heights. */
export interface GeoTiff {
  readonly directory: TiffDirectory;
  readonly layout: HeightLayout;
  readonly lattice: Lattice;
  readonly noData: number | undefined;
  /** Height in metres = number × factor + shift. */
  readonly factor: number;
  readonly shift: number;
  readonly above: 'sea' | 'ellipsoid';
  readonly notes: readonly string[];
  /** The time that the file gives as its own, as it stands there. */
  readonly edition: string | undefined;
}

interface Placing {
  readonly x: number;
  readonly y: number;
  readonly stepX: number;
  readonly stepY: number;
}

const noPlace = (): Unreadable => new Unreadable('does not say where it lies');

const readPlacing = async (source: ByteSource, directory: TiffDirectory, keys: GeoKeys): Promise<Placing> => {
  const valuesOf = async (tag: number): Promise<readonly number[] | undefined> => {
    const field = directory.field(tag);
    return field === undefined || field.count === 0 || field.count > 1200
      ? undefined
      : readNumbers(source, directory.littleEndian, field, 0, field.count);
  };
  // A pixel that is an area has its node in the middle, half a step from its corner (OGC 19-008r4, requirement 11).
  const half = keys.numbers.get(RASTER_TYPE) === PIXEL_IS_POINT ? 0 : 0.5;
  const matrix = await valuesOf(TRANSFORMATION);
  if (matrix !== undefined) {
    const [a = 0, b = 0, , x = Number.NaN, d = 0, e = 0, , y = Number.NaN] = matrix;
    if (b !== 0 || d !== 0) throw new Unreadable('is rotated against its coordinate system, which is not read');
    return { x: x + half * a, y: y + half * e, stepX: a, stepY: e };
  }
  const scale = await valuesOf(PIXEL_SCALE);
  const ties = await valuesOf(TIE_POINTS);
  if (ties === undefined) throw noPlace();
  if (scale === undefined) throw new Unreadable('is placed by control points alone, which are not read');
  const [scaleX = 0, scaleY = 0] = scale;
  const [column = 0, row = 0, , x = Number.NaN, y = Number.NaN] = ties;
  return { x: x + (half - column) * scaleX, y: y - (half - row) * scaleY, stepX: scaleX, stepY: -scaleY };
};

/** The items of a raster's one band in the metadata that GDAL writes (field 42112): scale, offset and unit. */
const bandItem = (metadata: string, role: 'scale' | 'offset' | 'unittype'): string | undefined => {
  for (const [, attributes = '', text = ''] of metadata.matchAll(/<Item\s([^>]*)>([^<]*)<\/Item>/g)) {
    const sample = /\bsample="(\d+)"/.exec(attributes)?.[1] ?? '0';
    if (sample === '0' && new RegExp(`\\brole="${role}"`).test(attributes)) return text.trim();
  }
  return undefined;
};

const numberItem = (metadata: string, role: 'scale' | 'offset', otherwise: number): number => {
  const text = bandItem(metadata, role);
  if (text === undefined) return otherwise;
  const value = Number(text);
  if (text === '' || !Number.isFinite(value)) throw new Unreadable(`gives a ${role} of its heights that is no number`);
  return value;
};

const textOf = async (source: ByteSource, directory: TiffDirectory, tag: number): Promise<string> => {
  const field = directory.field(tag);
  return field === undefined ? '' : readText(source, field);
};

/** Reads what a GeoTIFF says about itself. Rejects with `Unreadable` and the reason for whatever is not on our lists. */
export const openGeoTiff = async (source: ByteSource): Promise<GeoTiff> => {
  const directory = await readDirectory(source);
  const keys = await readGeoKeys(source, directory);
  const layout = await readLayout(source, directory);
  const placing = await readPlacing(source, directory, keys);
  const vertical = verticalTermsOf(keys);
  const crs = await crsOf(horizontalCodeOf(keys));
  const sound = Object.values(placing).every(Number.isFinite) && placing.stepX !== 0 && placing.stepY !== 0;
  if (!sound) throw noPlace();
  const metadata = await textOf(source, directory, METADATA);
  const unitName = bandItem(metadata, 'unittype');
  const perUnit = unitName === undefined || unitName === '' ? vertical.metresPerUnit : unitNamed(unitName);
  const noDataText = (await textOf(source, directory, NO_DATA)).trim();
  const noData = noDataText === '' ? undefined : Number(noDataText);
  const date = (await textOf(source, directory, DATE_TIME)).trim();
  return {
    directory,
    layout,
    lattice: { crs, ...placing },
    noData: noData === undefined || Number.isNaN(noData) ? undefined : noData,
    factor: numberItem(metadata, 'scale', 1) * perUnit,
    shift: numberItem(metadata, 'offset', 0) * perUnit,
    above: vertical.above,
    notes: vertical.notes,
    edition: /^\d{4}:\d{2}:\d{2}/.test(date) ? date.replace(/^(\d{4}):(\d{2}):(\d{2})/, '$1-$2-$3') : undefined,
  };
};

const toMetres = (pixels: Float32Array | Float64Array, { noData, factor, shift }: GeoTiff): number => {
  // A no-data value is written in decimal and compared with what the file can hold of it.
  const missing = noData === undefined ? Number.NaN : pixels instanceof Float32Array ? Math.fround(noData) : noData;
  let strange = 0;
  for (let i = 0; i < pixels.length; i++) {
    const value = pixels[i] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    if (value === missing) {
      pixels[i] = Number.NaN;
      continue;
    }
    const height = value * factor + shift;
    const plausible = isGround(height);
    if (!plausible) strange++;
    pixels[i] = plausible ? height : Number.NaN;
  }
  return strange;
};

/** The part of a raster that a box needs, or undefined where the two do not meet. Rejects with `Unreadable`. */
export const readGeoTiff = async (
  source: ByteSource,
  raster: GeoTiff,
  box: Box,
  terms: ReadTerms = {},
): Promise<RasterPart | undefined> => {
  const { lattice, layout } = raster;
  const nodes = nodesFor(lattice, layout.width, layout.height, box);
  if (nodes === undefined) return undefined;
  if (raster.above === 'ellipsoid' && terms.geoid === undefined) throw ellipsoidal();
  if (nodes.columns * nodes.rows > MOST_NODES) {
    const millions = sayNumber((nodes.columns * nodes.rows) / 1e6, 0);
    throw new Unreadable(
      `has ${millions} million heights in the plan's area, and at most 48 million are read; use a coarser one`,
    );
  }
  const heights = await readPixels(source, raster.directory, layout, nodes);
  const strange = toMetres(heights, raster);
  const cell = cellAt(lattice, middleOf(box));
  const { error, note } = statedError(terms, cell);
  const notes = [...raster.notes, note];
  if (strange > 0) notes.push(`${strange} heights that no ground on Earth has count as no data`);
  const part: RasterPart = {
    ...nodes,
    lattice,
    heights,
    error: error + heightOfHorizontalError(heights, nodes.columns, lattice.crs.horizontalError, cell),
    notes,
    edition: raster.edition ?? '',
  };
  return raster.above === 'ellipsoid' && terms.geoid !== undefined ? bringToSea(part, terms.geoid, cell) : part;
};

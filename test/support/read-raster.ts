import type { Box } from '../../server/src/geo/box.ts';
import { byteSource } from '../../server/src/host/raster/byte-source.ts';
import { openGeoTiff, readGeoTiff } from '../../server/src/host/raster/geotiff.ts';
import { gridOf, type RasterPart } from '../../server/src/host/raster/raster-part.ts';
import { degrees, type LonLat, lonLat } from '../../server/src/units/frames.ts';
import type { GeoTiffOptions } from './make-raster.ts';
import { memoryFiles } from './memory-files.ts';

export const box = (west: number, south: number, east: number, north: number): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

export const read = async (
  bytes: Uint8Array,
  where: Box,
  reads: 'parts' | 'whole' = 'parts',
): Promise<RasterPart | undefined> => {
  const files = memoryFiles({ '/raster.tif': bytes }, { reads });
  const stat = await files.stat('/raster.tif');
  if (stat === undefined) throw new Error('the file is not there');
  const source = await byteSource(files, '/raster.tif', stat);
  return readGeoTiff(source, await openGeoTiff(source), where);
};

export const readThere = async (bytes: Uint8Array, where: Box): Promise<RasterPart> => {
  const part = await read(bytes, where);
  if (part === undefined) throw new Error('the raster was not met');
  return part;
};

export const refusal = async (bytes: Uint8Array, where: Box = HERE): Promise<string> => {
  try {
    await read(bytes, where);
  } catch (error) {
    return error instanceof Error ? `${error.name}: ${error.message}` : '';
  }
  return 'not refused';
};

/** Bilinear height at a place, from the grid alone. */
export const heightAt = (part: RasterPart, at: LonLat): number => {
  const grid = gridOf(part, at);
  const { x, y } = grid.toGrid(at);
  const column = Math.floor(x);
  const row = Math.floor(y);
  const node = (c: number, r: number): number => {
    const within = c >= 0 && r >= 0 && c < grid.columns && r < grid.rows;
    return within ? (grid.heights[r * grid.columns + c] ?? Number.NaN) : Number.NaN;
  };
  const fx = x - column;
  const fy = y - row;
  const top = node(column, row) * (1 - fx) + node(column + 1, row) * fx;
  const bottom = node(column, row + 1) * (1 - fx) + node(column + 1, row + 1) * fx;
  return top * (1 - fy) + bottom * fy;
};

export const HERE = box(9.99, 46.99, 10.01, 47.01);
export const SMALL: GeoTiffOptions = {
  columns: 40,
  rows: 30,
  x: 9.98,
  y: 47.015,
  stepX: 0.001,
  stepDown: 0.001,
  epsg: 4326,
  value: (column, row) => 100 + column + 2 * row,
};
/** The height that SMALL has at its node in a column and row. */
export const node = (column: number, row: number): LonLat => lonLat(9.98 + column * 0.001, 47.015 - row * 0.001);

/** The metadata that GDAL writes for one item of the band. */
export function item(role: string, text: string, more = '', bare = false): string {
  const own = `<Item name="${role.toUpperCase()}" sample="0" role="${role}">${text}</Item>${more}`;
  return bare && more === '' ? own : `<GDALMetadata>${own}</GDALMetadata>`;
}

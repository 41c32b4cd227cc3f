import type { Written } from '../text/span.ts';
import type { Metres } from '../units/frames.ts';
import type { Amount } from './model.ts';

/** A raster or a folder of tiles. Absent `is` = ground. */
export interface TerrainReference extends Written<string> {
  /** A surface model has trees and buildings in it: it bounds obstacles and is never ground. */
  readonly is?: Written<'ground' | 'surface'>;
  /** Vertical error, in place of the usual one. */
  readonly error?: Amount<Metres>;
  readonly edition?: Written<string>;
}

/** An airspace file, and the mapping through which it is read where it has an authority's own layout. */
export interface AirspaceReference extends Written<string> {
  readonly mapping?: Written<string>;
}

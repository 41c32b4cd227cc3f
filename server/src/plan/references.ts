import type { Written } from '../text/span.ts';
import type { Metres } from '../units/frames.ts';
import type { Amount, DateOrTime } from './model.ts';

/** A file about the world, with what the plan says of it where the file itself does not. */
export interface FileReference extends Written<string> {
  readonly edition?: Written<string>;
  readonly retrieved?: Written<DateOrTime>;
}

/** A raster or a folder of tiles. Absent `is` = ground. */
export interface TerrainReference extends FileReference {
  /** A surface model has trees and buildings in it: it bounds obstacles and is never ground. */
  readonly is?: Written<'ground' | 'surface'>;
  /** Vertical error, in place of the usual one. */
  readonly error?: Amount<Metres>;
}

/** An airspace file, and the mapping through which it is read where it has an authority's own layout. */
export interface AirspaceReference extends FileReference {
  readonly mapping?: Written<string>;
}

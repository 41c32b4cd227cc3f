/**
 * Files as the loaders see them: disk on a desktop, requests to the editor in a browser. A location is an absolute
 * path or a URI, opaque to everyone but its `Files`. Every method rejects with an `Error` whose message can be shown.
 */
export interface Files {
  /** The location that a relative reference names, seen from a document. Does not touch the disk. */
  resolve(document: string, reference: string): string;
  /** The same location with every link resolved. */
  real(location: string): Promise<string>;
  stat(location: string): Promise<FileStat | undefined>;
  /** Names in a folder, sorted by code unit. */
  list(folder: string): Promise<readonly string[]>;
  read(location: string): Promise<Uint8Array>;
  /** Reads a part of a large file; absent where only whole files can be read. */
  readPart?(location: string, offset: number, length: number): Promise<Uint8Array>;
}

export interface FileStat {
  readonly kind: 'file' | 'folder';
  readonly size: number;
  /** RFC 3339 time of the last change, where known. */
  readonly modified?: string;
  /** Changes when the content does: size and time of change, or a hash. Key of the caches. */
  readonly version: string;
}

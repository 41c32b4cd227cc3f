import type { Files } from '../world/files.ts';

/** What was looked at through `seeing`. Locations are those of the files behind it. */
export interface Seen {
  /** Read in whole or in part. */
  readonly read: ReadonlySet<string>;
  /** Only asked whether they are there. */
  readonly looked: ReadonlySet<string>;
  readonly listed: ReadonlySet<string>;
}

/** The same files, noting what is looked at: the inputs of a plan, whoever loads them and however they are named. */
export const seeing = (files: Files): { readonly files: Files; readonly seen: Seen } => {
  const read = new Set<string>();
  const looked = new Set<string>();
  const listed = new Set<string>();
  const { readPart } = files;
  const noting: Files = {
    resolve: (document, reference) => files.resolve(document, reference),
    real: (location) => {
      looked.add(location);
      return files.real(location);
    },
    stat: (location) => {
      looked.add(location);
      return files.stat(location);
    },
    list: (folder) => {
      listed.add(folder);
      return files.list(folder);
    },
    read: (location) => {
      read.add(location);
      return files.read(location);
    },
    ...(readPart === undefined
      ? {}
      : {
          readPart: (location: string, offset: number, length: number) => {
            read.add(location);
            return readPart.call(files, location, offset, length);
          },
        }),
  };
  return { files: noting, seen: { read, looked, listed } };
};

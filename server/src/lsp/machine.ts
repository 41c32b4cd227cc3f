import type { PlanDocument } from '../plan/read.ts';
import type { ReviewInput } from '../review/review.ts';
import type { Instant } from '../units/frames.ts';
import type { Files } from '../world/files.ts';

/** What a person granted on this machine; no file of a repository can add to it. */
export interface Grants {
  readonly dataFolders: readonly string[];
  /** In a workspace that the editor does not trust, no data folder is granted. */
  readonly restricted: boolean;
}

/** All that a review needs, and the texts behind its places, by location. */
export interface Prepared {
  readonly input: ReviewInput;
  readonly texts: ReadonlyMap<string, string>;
  /** The plan with the parts of its text, for the next reading. */
  readonly reading: PlanDocument;
}

/** What the place it runs at lends the language server. Only the mains make one; tests make their own. */
export interface Machine {
  readonly version: string;
  /** Data folders granted outside the editor, by the environment. */
  readonly dataFolders: readonly string[];
  now(): Instant;
  /** Location of a document's address, as `Files` knows it. Total. */
  locationOf(uri: string): string;
  /** Address of a location. Total. */
  uriOf(location: string): string;
  /** The files; `asked` reaches those that only the editor can open, where it offers that. */
  files(asked: Files | undefined): Files;
  /** The folder that a document's references may not leave. */
  rootOf(files: Files, location: string): Promise<string>;
  /** See `host/prepare.ts`; `earlier` is what was prepared for the document's last text. */
  prepare(
    text: string,
    location: string,
    files: Files,
    grants: Grants,
    now: Instant,
    earlier?: Prepared,
  ): Promise<Prepared>;
}

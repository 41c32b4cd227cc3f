import type { PlanDocument } from '../plan/read.ts';
import type { ReviewInput } from '../review/review.ts';
import type { Instant } from '../units/frames.ts';
import type { Crew } from './crew.ts';
import type { JudgeTerms } from './judge-plan.ts';

/** All that a review needs, the texts behind its places, and the plan with the parts of its text. */
export interface PreparedPlan {
  readonly input: ReviewInput;
  readonly texts: ReadonlyMap<string, string>;
  readonly reading: PlanDocument;
}

/** One version of all files of a repository. */
export interface Version<Host = unknown> {
  readonly host: Host;
  /** Paths from the root, in order; undefined for the working tree, whose folders are walked. */
  readonly paths: readonly string[] | undefined;
  locationOf(path: string): string;
  read(path: string): Promise<Uint8Array>;
}

/** The versions of a repository. What rejects here has a message for people. */
export interface Versions<Host = unknown> {
  readonly root: string;
  commit(name: string): Promise<string>;
  mergeBase(one: string, other: string): Promise<string>;
  at(commit: string): Promise<Version<Host>>;
  working(): Version<Host>;
}

/** What has changed since a revision, asked for one plan at a time. */
export interface Changes<Host = unknown> {
  /** A host that notes what is looked at, and whether any of it, or the plan's own document, has changed. */
  watch(host: Host): { readonly host: Host; readonly changed: (document: string) => Promise<boolean> };
}

/** What the machine lends the command line. Only `main` makes one; tests make their own. */
export interface Machine<Host = unknown> {
  readonly version: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Whether standard output wants colours. */
  readonly coloured: boolean;
  now(): Instant;
  decode(bytes: Uint8Array): string;
  standardInput(): Promise<Uint8Array>;
  print(text: string): Promise<void>;
  host(dataFolders: readonly string[]): Host;
  prepare(text: string, document: string, host: Host, now: Instant): Promise<PreparedPlan>;
  /** The versions of the repository that a folder lies in. */
  versions(folder: string, dataFolders: readonly string[]): Promise<Versions<Host>>;
  /** What has changed since a revision of the repository that a folder lies in. Rejects with a message for people. */
  changesSince?(ref: string, folder: string): Promise<Changes<Host>>;
  /** Threads that judge plans beside each other; undefined where they would not pay. */
  crew?(terms: JudgeTerms, plans: number): Crew | undefined;
  /** Whether somebody watches standard error, so that progress may be told there. */
  readonly watched?: boolean;
  /** Runs the language server on standard input and output until the client leaves. */
  serve(): Promise<number>;
}

import type { ReviewInput } from '../review/review.ts';
import type { Instant } from '../units/frames.ts';

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
  prepare(
    text: string,
    document: string,
    host: Host,
    now: Instant,
  ): Promise<{ readonly input: ReviewInput; readonly texts: ReadonlyMap<string, string> }>;
  /** Runs the language server on standard input and output until the client leaves. */
  serve(): Promise<number>;
}

import type { CancellationToken, Connection } from 'vscode-languageserver';
import type { ClientTerms } from './client-terms.ts';
import type { OpenDocument } from './documents.ts';
import type { Judgement } from './judgement.ts';
import type { Machine } from './machine.ts';
import type { Push } from './push.ts';
import type { Session } from './session.ts';
import type { WorkspacePull } from './workspace/pull-all.ts';

/** What there is once the client has introduced itself. */
export interface Running {
  readonly terms: ClientTerms;
  readonly session: Session;
  readonly push: Push | undefined;
  /** Where the client pulls and wants documents that are not open. */
  readonly all: WorkspacePull | undefined;
}

/** What every group of requests is served with. */
export interface Desk {
  readonly connection: Connection;
  readonly machine: Machine;
  /** Undefined until the client has introduced itself. */
  running(): Running | undefined;
  /** Answers `nothing` where the work fails, and logs why: a failure of ours must not take the editor along. */
  guarded<T>(what: string, nothing: T, work: () => Promise<T> | T): Promise<T>;
  /** The open document at an address. */
  document(uri: string): OpenDocument | undefined;
  /** The judgement of the text as it stands, for a request with places in it. */
  current(uri: string, token: CancellationToken): Promise<Judgement | undefined>;
}

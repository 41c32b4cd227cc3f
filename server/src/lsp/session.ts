import type { CancellationToken } from 'vscode-languageserver';
import type { Finding } from '../rulebook/finding.ts';
import { Lines } from '../text/lines.ts';
import type { Files } from '../world/files.ts';
import type { OpenDocument } from './documents.ts';
import { type Judgement, judge, newThread, type Thread } from './judgement.ts';
import type { Grants, Machine } from './machine.ts';
import type { OpenFiles } from './open-files.ts';
import { Trees } from './trees.ts';

/** A run that nobody wants any more may still end when little is left: a typist then sees something. */
const LITTLE_LEFT_MS = 100;

/** Resolves a little after a request was cancelled: a world that is slow to load must not hold it up. */
const givenUp = (token: CancellationToken): Promise<undefined> =>
  new Promise((resolve) => {
    const soon = (): void => {
      setTimeout(() => resolve(undefined), LITTLE_LEFT_MS);
    };
    if (token.isCancellationRequested) soon();
    else token.onCancellationRequested(soon);
  });

/** What a judgement says about "now" may be this old before it is made again. */
const STALE_MS = 10 * 60_000;

/** What is shown of a text at which an earlier server ended: judging it again would end this one, too. */
const leftAlone = (document: OpenDocument): Judgement => ({
  document,
  findings: [],
  gaps: [],
  lines: new Map([[document.location, document.lines]]),
  fault: 'it ended while it judged this text, which is judged again as soon as it changes',
});

interface Run {
  readonly key: string;
  readonly done: Promise<Judgement | undefined>;
  /** How many requests wait for it. */
  waiting: number;
  isDone: boolean;
  /** When it has to be given up, by the clock of `performance`. */
  leaveBy: number;
}

/**
 * The open documents and what is known about each. One judgement is made for each text and edition of the world and
 * shared by all who ask; the latest text wins.
 */
export class Session {
  readonly #machine: Machine;
  readonly #files: OpenFiles;
  readonly #open = new Map<string, OpenDocument>();
  readonly #runs = new Map<string, Run>();
  readonly #last = new Map<string, Judgement>();
  readonly #threads = new Map<string, Thread>();
  #grants: Grants;
  #edition = 0;
  /** Told of each judgement of an open document's newest text. */
  onJudged: (judgement: Judgement) => void = () => {};
  /** Told when the judgement of a document begins and ends, so that a client knows at which one a server ended. */
  onJudging: (uri: string, ended: boolean) => void = () => {};
  /** Documents at which an earlier server ended, and the serial of the text that is left alone. */
  readonly #suspects: Map<string, number | undefined>;

  constructor(machine: Machine, files: OpenFiles, grants: Grants, suspects: readonly string[] = []) {
    this.#suspects = new Map(suspects.map((uri) => [uri, undefined]));
    this.#machine = machine;
    this.#files = files;
    this.#grants = grants;
  }

  /** The files of the machine, in which the text that is open beats what is saved. */
  get files(): Files {
    return this.#files;
  }

  get documents(): readonly OpenDocument[] {
    return [...this.#open.values()];
  }

  /** Whether an earlier server ended at a document whose text has not changed since. */
  isLeftAlone(uri: string): boolean {
    return this.#suspects.has(uri);
  }

  document(uri: string): OpenDocument | undefined {
    return this.#open.get(uri);
  }

  /** Address of a location: as the client has it open, else as the machine writes it. */
  uriOf(location: string): string {
    for (const document of this.#open.values()) if (document.location === location) return document.uri;
    return this.#machine.uriOf(location);
  }

  put(document: OpenDocument): void {
    const { uri, serial } = document;
    if (this.#suspects.has(uri)) {
      if (this.#suspects.get(uri) === undefined) this.#suspects.set(uri, serial);
      else this.#suspects.delete(uri);
    }
    this.#open.set(uri, document);
    this.#files.put(document);
    this.#hurry(document.uri);
    if (document.language !== 'mission') this.worldChanged();
  }

  close(uri: string): void {
    const document = this.#open.get(uri);
    if (document === undefined) return;
    this.#open.delete(uri);
    this.#last.delete(uri);
    this.#threads.delete(uri);
    this.#files.remove(document.location);
    this.#hurry(uri);
    if (document.language !== 'mission') this.worldChanged();
  }

  grant(grants: Grants): void {
    this.#grants = grants;
    this.worldChanged();
  }

  /** Everything has to be judged again when it is next asked for. */
  worldChanged(): void {
    this.#edition++;
  }

  /** The newest judgement that is ready, perhaps of an older text. */
  last(uri: string): Judgement | undefined {
    return this.#last.get(uri);
  }

  /**
   * The judgement of a document, made now where there is none. Undefined where the document is not open, or where the
   * request was cancelled long before the end. A run that ends soon is answered although its text has changed.
   */
  async judged(uri: string, token?: CancellationToken): Promise<Judgement | undefined> {
    for (;;) {
      const document = this.#open.get(uri);
      if (document === undefined) return undefined;
      const run = this.#runFor(document);
      // A request that was cancelled before it was read carries a token that never tells anybody.
      if (token?.isCancellationRequested !== true) run.waiting++;
      const listening = token?.onCancellationRequested(() => {
        run.waiting--;
        if (run.waiting === 0) run.leaveBy = Math.min(run.leaveBy, performance.now() + LITTLE_LEFT_MS);
      });
      const judgement = await (token === undefined ? run.done : Promise.race([run.done, givenUp(token)]));
      listening?.dispose();
      if (token?.isCancellationRequested !== true) run.waiting--;
      if (judgement !== undefined) return judgement;
      if (token?.isCancellationRequested === true) return undefined;
    }
  }

  /** As `judged`, but of the text as it is when this returns: for answers that carry places in the text. */
  async current(uri: string, token?: CancellationToken): Promise<Judgement | undefined> {
    for (;;) {
      const judgement = await this.judged(uri, token);
      if (judgement === undefined || token?.isCancellationRequested === true) return undefined;
      if (this.#open.get(uri)?.serial === judgement.document.serial) return judgement;
    }
  }

  /** Counts the states of the world: what was judged under an older one has to be judged again. */
  get edition(): number {
    return this.#edition;
  }

  /** Whether a judgement of an open document is under way that somebody waits for. */
  get isBusy(): boolean {
    return [...this.#runs.values()].some(({ isDone, waiting }) => !isDone && waiting > 0);
  }

  /** Judges a document that is not open; nothing of it is kept. */
  judgeSaved(document: OpenDocument, token: CancellationToken): Promise<Judgement | undefined> {
    const unwanted = (): boolean => token.isCancellationRequested;
    return judge(document, this.#machine, this.#files, this.#grants, unwanted, newThread());
  }

  /** The findings that a document would have with another text; nothing of it is kept. */
  async findingsWith(
    document: OpenDocument,
    text: string,
    token: CancellationToken,
  ): Promise<readonly Finding[] | undefined> {
    const other: OpenDocument = { ...document, serial: -1, text, lines: new Lines(text), trees: new Trees() };
    const judgement = await this.judgeSaved(other, token);
    return judgement?.fault === undefined ? judgement?.findings : undefined;
  }

  #hurry(uri: string): void {
    const run = this.#runs.get(uri);
    if (run !== undefined) run.leaveBy = Math.min(run.leaveBy, performance.now() + LITTLE_LEFT_MS);
  }

  #runFor(document: OpenDocument): Run {
    const { uri } = document;
    const age = Math.floor(this.#machine.now() / STALE_MS);
    const key = `${document.serial} ${this.#edition} ${age}`;
    const running = this.#runs.get(uri);
    if (running?.key === key) return running;
    if (running !== undefined) this.#hurry(uri);
    const unwanted = (): boolean => performance.now() > run.leaveBy;
    const thread = this.#threads.get(uri) ?? newThread();
    this.#threads.set(uri, thread);
    this.onJudging(uri, false);
    const judged = this.#suspects.has(uri)
      ? Promise.resolve(leftAlone(document))
      : judge(document, this.#machine, this.#files, this.#grants, unwanted, thread);
    const done = judged.then((judgement) => {
      run.isDone = true;
      if (this.#runs.get(uri) === run) this.onJudging(uri, true);
      if (judgement === undefined) {
        if (this.#runs.get(uri) === run) this.#runs.delete(uri);
      } else this.#keep(judgement);
      return judgement;
    });
    const run: Run = { key, done, waiting: 0, isDone: false, leaveBy: Number.POSITIVE_INFINITY };
    this.#runs.set(uri, run);
    return run;
  }

  #keep(judgement: Judgement): void {
    const { uri, serial } = judgement.document;
    const open = this.#open.get(uri);
    if (open === undefined) return;
    const last = this.#last.get(uri);
    if (last !== undefined && last.document.serial > serial) return;
    this.#last.set(uri, judgement);
    this.onJudged(judgement);
  }
}

import type { FactTools } from '../facts/fact.ts';
import { readAircraft } from '../plan/read-aircraft.ts';
import { readMapping } from '../plan/read-mapping.ts';
import { readSettings } from '../plan/read-settings.ts';
import { Memory } from '../review/memory.ts';
import type { Review } from '../review/outcome.ts';
import { type ReviewInput, reviewSteps } from '../review/review.ts';
import { reviewSlips } from '../review/review-slips.ts';
import type { Finding, Gap } from '../rulebook/finding.ts';
import { Lines } from '../text/lines.ts';
import type { Span } from '../text/span.ts';
import type { Files } from '../world/files.ts';
import type { OpenDocument } from './documents.ts';
import type { Grants, Machine, Prepared } from './machine.ts';
import { pause } from './pause.ts';
import { pinned } from './pinned.ts';

/** What is known about one text of one open document. Diagnostics, hover and actions all read this one. */
export interface Judgement {
  readonly document: OpenDocument;
  readonly findings: readonly Finding[];
  readonly gaps: readonly Gap[];
  /** Line starts of the document and of the documents it refers to, by location. */
  readonly lines: ReadonlyMap<string, Lines>;
  /** Of a mission: where what stands in its aircraft's file, or anywhere else, is shown. */
  readonly places?: { readonly title: Span; readonly aircraft?: Span };
  /** Of a mission. Its places move with the next text: only for an answer about the text as it is. */
  readonly input?: ReviewInput;
  readonly review?: Review;
  /** Answers facts about the mission as it was judged, from what was worked out then. */
  readonly tools?: FactTools;
  /** Set where this program failed; the document is then not judged, and the client is told so. */
  readonly fault?: string;
}

/** What one judgement of a document hands to the next, so that an edit costs what it changed. */
export interface Thread {
  prepared?: Prepared;
  readonly memory: Memory;
  /** Ends with the judgement that is under way: two of them would move the same places. */
  turn: Promise<void>;
}

export const newThread = (): Thread => ({ memory: new Memory(), turn: Promise.resolve() });

/** A slice is short enough that a key press or hover in between is not felt. */
const SLICE_MS = 20;

/** Judges in slices and lets messages in between. Undefined as soon as nobody wants the result any more. */
const drain = async (input: ReviewInput, memory: Memory, unwanted: () => boolean): Promise<Review | undefined> => {
  const steps = reviewSteps(input, memory);
  let until = performance.now() + SLICE_MS;
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    if (performance.now() < until) continue;
    await pause();
    if (unwanted()) return undefined;
    until = performance.now() + SLICE_MS;
  }
};

const judgeMission = async (
  document: OpenDocument,
  machine: Machine,
  files: Files,
  grants: Grants,
  unwanted: () => boolean,
  thread: Thread,
): Promise<Judgement | undefined> => {
  const { text, location } = document;
  const prepared = await machine.prepare(text, location, files, grants, machine.now(), thread.prepared);
  thread.prepared = prepared;
  const { input, texts } = prepared;
  if (unwanted()) return undefined;
  const review = await drain(input, thread.memory, unwanted);
  if (review === undefined) return undefined;
  const { tools } = thread.memory;
  if (tools === undefined) return undefined;
  const { plan } = input;
  const places = pinned({
    title: plan.titleSpan,
    ...(plan.aircraft === undefined ? {} : { aircraft: plan.aircraft.span }),
  });
  const lines = new Map([...texts].map(([name, content]) => [name, new Lines(content)]));
  lines.set(location, document.lines);
  return {
    document,
    findings: pinned(review.findings),
    gaps: pinned(review.gaps),
    lines,
    places,
    input,
    review,
    tools,
  };
};

const judgeOther = (document: OpenDocument): Judgement => {
  const { text, location } = document;
  const anchor = { document: location, at: 0 };
  const lines = new Map([[location, document.lines]]);
  if (document.language === 'aircraft') {
    const aircraft = readAircraft(text, location);
    return { document, findings: reviewSlips(location, aircraft.slips, aircraft.nameSpan), gaps: [], lines };
  }
  const { slips } = document.language === 'mapping' ? readMapping(text, location) : readSettings(text, location);
  return { document, findings: reviewSlips(location, slips, { anchor, from: 0, to: 0 }), gaps: [], lines };
};

/** Judges a document. Never rejects: a failure of ours is a judgement that says so. */
export const judge = async (
  document: OpenDocument,
  machine: Machine,
  files: Files,
  grants: Grants,
  unwanted: () => boolean,
  thread: Thread,
): Promise<Judgement | undefined> => {
  const before = thread.turn;
  let end = (): void => {};
  thread.turn = new Promise((resolve) => {
    end = resolve;
  });
  await before;
  try {
    if (unwanted()) return undefined;
    if (document.language !== 'mission') return judgeOther(document);
    return await judgeMission(document, machine, files, grants, unwanted, thread);
  } catch (error) {
    const fault = error instanceof Error ? (error.stack ?? error.message) : String(error);
    const lines = new Map([[document.location, document.lines]]);
    return { document, findings: [], gaps: [], lines, fault };
  } finally {
    end();
  }
};

import { readAircraft } from '../plan/read-aircraft.ts';
import { readSettings } from '../plan/read-settings.ts';
import type { Review } from '../review/outcome.ts';
import { type ReviewInput, reviewSteps } from '../review/review.ts';
import { reviewSlips } from '../review/review-slips.ts';
import type { Finding, Gap } from '../rulebook/finding.ts';
import { Lines } from '../text/lines.ts';
import type { Files } from '../world/files.ts';
import type { OpenDocument } from './documents.ts';
import type { Grants, Machine } from './machine.ts';
import { pause } from './pause.ts';

/** What is known about one text of one open document. Diagnostics, hover and actions all read this one. */
export interface Judgement {
  readonly document: OpenDocument;
  readonly findings: readonly Finding[];
  readonly gaps: readonly Gap[];
  /** Line starts of the document and of the documents it refers to, by location. */
  readonly lines: ReadonlyMap<string, Lines>;
  /** Of a mission. */
  readonly input?: ReviewInput;
  readonly review?: Review;
  /** Set where this program failed; the document is then not judged, and the client is told so. */
  readonly fault?: string;
}

/** A slice is short enough that a key press or hover in between is not felt. */
const SLICE_MS = 20;

/** Judges in slices and lets messages in between. Undefined as soon as nobody wants the result any more. */
const drain = async (input: ReviewInput, unwanted: () => boolean): Promise<Review | undefined> => {
  const steps = reviewSteps(input);
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
): Promise<Judgement | undefined> => {
  const { text, location } = document;
  const { input, texts } = await machine.prepare(text, location, files, grants, machine.now());
  if (unwanted()) return undefined;
  const review = await drain(input, unwanted);
  if (review === undefined) return undefined;
  const lines = new Map([...texts].map(([name, content]) => [name, new Lines(content)]));
  lines.set(location, document.lines);
  return { document, findings: review.findings, gaps: review.gaps, lines, input, review };
};

const judgeOther = (document: OpenDocument): Judgement => {
  const { text, location } = document;
  const anchor = { document: location, at: 0 };
  const lines = new Map([[location, document.lines]]);
  if (document.language === 'aircraft') {
    const aircraft = readAircraft(text, location);
    return { document, findings: reviewSlips(location, aircraft.slips, aircraft.nameSpan), gaps: [], lines };
  }
  const { slips } = readSettings(text, location);
  return { document, findings: reviewSlips(location, slips, { anchor, from: 0, to: 0 }), gaps: [], lines };
};

/** Judges a document. Never rejects: a failure of ours is a judgement that says so. */
export const judge = async (
  document: OpenDocument,
  machine: Machine,
  files: Files,
  grants: Grants,
  unwanted: () => boolean,
): Promise<Judgement | undefined> => {
  try {
    if (document.language === 'mission') return await judgeMission(document, machine, files, grants, unwanted);
    return judgeOther(document);
  } catch (error) {
    const fault = error instanceof Error ? (error.stack ?? error.message) : String(error);
    const lines = new Map([[document.location, document.lines]]);
    return { document, findings: [], gaps: [], lines, fault };
  }
};

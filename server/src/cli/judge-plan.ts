import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { Review } from '../review/outcome.ts';
import { type StressResult, stress } from '../review/stress.ts';
import { Lines } from '../text/lines.ts';
import type { Instant } from '../units/frames.ts';
import { reasonOf } from './find-plans.ts';
import { type DrawnPlan, drawPlan } from './formats/geojson.ts';
import { judged } from './judged.ts';
import type { Changes, Machine } from './machine.ts';

/** How the plans of a run are judged: plain data, so that it can go to another thread. */
export interface JudgeTerms {
  readonly now: Instant;
  readonly dataFolders: readonly string[];
  readonly stress: boolean;
  /** Whether a report wants a map of each plan. */
  readonly map: boolean;
}

/** A plan that was judged: plain data as well. */
export interface JudgedPlan {
  readonly review: Review;
  /** The texts behind its places, by document. */
  readonly texts: ReadonlyMap<string, string>;
  readonly stress?: readonly StressResult[];
  readonly drawn?: DrawnPlan;
}

export type JudgeOutcome =
  | { readonly judged: JudgedPlan }
  | { readonly unopened: string }
  /** Nothing that the plan reads has changed. */
  | { readonly unaffected: true };

export const linesOf = (texts: ReadonlyMap<string, string>): ReadonlyMap<string, Lines> =>
  new Map([...texts].map(([name, content]) => [name, new Lines(content)]));

/** Our own fault with one plan must not hide the others; exit code 2 says that the check is not complete. */
export const faultOf = (error: unknown): JudgeOutcome => {
  const said = error instanceof Error ? error.message : String(error);
  return { unopened: `a fault of this program, please report it: ${said}` };
};

/** Judges the text of a plan. Never rejects. */
export const judgeText = async (
  text: string,
  document: string,
  terms: JudgeTerms,
  machine: Machine,
  host: unknown,
  since?: Changes<unknown>,
): Promise<JudgeOutcome> => {
  try {
    const watched = since?.watch(host);
    const { input, texts } = await machine.prepare(text, document, watched?.host ?? host, terms.now);
    if (watched !== undefined && !(await watched.changed(document))) return { unaffected: true };
    const { review, tools } = judged(input);
    const wanted = terms.map && tools !== undefined;
    return {
      judged: {
        review,
        texts,
        ...(terms.stress ? { stress: stress(input, review) } : {}),
        ...(wanted ? { drawn: drawPlan({ review, lines: linesOf(texts) }, tools) } : {}),
      },
    };
  } catch (error) {
    return faultOf(error);
  }
};

/** The same for a file. */
export const judgeFile = async (
  path: string,
  terms: JudgeTerms,
  machine: Machine,
  host: unknown,
  since?: Changes<unknown>,
): Promise<JudgeOutcome> => {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    return { unopened: reasonOf(error) };
  }
  return judgeText(machine.decode(bytes), resolve(path), terms, machine, host, since);
};

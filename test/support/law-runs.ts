import { expect } from 'vitest';
import type { Review } from '../../server/src/review/outcome.ts';
import { isStillTold } from './judge-draft.ts';
import type { DatumDraft } from './random-flight.ts';

/** Another seed can be tried from outside; it stands in the name of the suite, so that a failure can be run again. */
export const SEED = Number(process.env['WAYWARDEN_SEED'] ?? 20_261_125);
export const RUNS = { seed: SEED, numRuns: 80 };

export const ALL: readonly DatumDraft[] = ['AGL', 'AMSL', 'above take-off'];

export const HEIGHT_RULES: readonly string[] = [
  'leg-above-height-limit',
  'point-above-height-limit',
  'area-above-height-limit',
];
export const STRIKE_RULES: readonly string[] = ['leg-meets-ground', 'point-below-ground', 'area-meets-ground'];

/** Findings of one review that another no longer tells; notes are left out. */
export const lost = (before: Review, after: Review, rules?: readonly string[]): readonly string[] =>
  before.findings
    .filter((finding) => finding.level !== 'note' && (rules === undefined || rules.includes(finding.rule)))
    .filter((finding) => !isStillTold(finding, after))
    .map((finding) => `${finding.rule}: ${finding.message}`);

export const gapsOf = (found: Review): readonly string[] =>
  found.gaps.map((gap) => `${gap.rule}: ${gap.reason}`).sort();

/** How often the premise of a law held: a law whose premise never holds proves nothing. */
const premises = new Map<string, number>();
export const held = (law: string, holds: boolean): void => {
  premises.set(law, (premises.get(law) ?? 0) + (holds ? 1 : 0));
};

/** To be called after the laws of a file. */
export const checkPremises = (): void => {
  for (const [law, times] of premises) {
    expect(times, `too few cases in which ${law}`).toBeGreaterThan(RUNS.numRuns / 10);
  }
};

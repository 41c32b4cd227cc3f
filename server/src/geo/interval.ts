/** A stretch of a path in metres from its start, ends included. A touch has equal ends. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/** Ends closer than this are one place: a micrometre, far below every limit and far above the arithmetic's noise. */
const SAME_PLACE = 1e-6;

/** The same stretches in order, with those that meet or overlap made one. */
export const mergeIntervals = (stretches: readonly Interval[]): Interval[] => {
  const ordered = [...stretches].sort((one, other) => one.from - other.from || one.to - other.to);
  const merged: Interval[] = [];
  for (const next of ordered) {
    const last = merged[merged.length - 1];
    if (last === undefined || next.from > last.to + SAME_PLACE) merged.push(next);
    else if (next.to > last.to) merged[merged.length - 1] = { from: last.from, to: next.to };
  }
  return merged;
};

/** What two ordered, merged lists have in common. Stretches that touch share their end. */
export const commonIntervals = (ones: readonly Interval[], others: readonly Interval[]): Interval[] => {
  const common: Interval[] = [];
  let i = 0;
  let j = 0;
  for (;;) {
    const one = ones[i];
    const other = others[j];
    if (one === undefined || other === undefined) return common;
    const from = Math.max(one.from, other.from);
    const to = Math.min(one.to, other.to);
    if (from <= to) common.push({ from, to });
    if (one.to < other.to) i += 1;
    else j += 1;
  }
};

/** What an ordered, merged list leaves free of a stretch. The ends that it shares with the list belong to both. */
export const freeOf = (taken: readonly Interval[], whole: Interval): Interval[] => {
  const free: Interval[] = [];
  let from = whole.from;
  for (const stretch of taken) {
    if (stretch.to < whole.from || stretch.from > whole.to) continue;
    if (stretch.from > from) free.push({ from, to: stretch.from });
    from = Math.max(from, stretch.to);
  }
  if (from < whole.to || (taken.length === 0 && from === whole.to)) free.push({ from, to: whole.to });
  return free;
};

/** The sum of their lengths in metres. */
export const totalLength = (stretches: readonly Interval[]): number =>
  stretches.reduce((sum, stretch) => sum + (stretch.to - stretch.from), 0);

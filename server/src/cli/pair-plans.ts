/** Half of the lines in common make a plan the same under another path. */
const ALIKE = 0.5;

const linesOf = (text: string): ReadonlySet<string> =>
  new Set(
    text
      .split(/\r?\n/)
      .map((line) => line.trim())
      .filter((line) => line !== ''),
  );

const likeness = (one: ReadonlySet<string>, other: ReadonlySet<string>): number => {
  let same = 0;
  for (const line of one) if (other.has(line)) same++;
  return same / Math.max(1, one.size, other.size);
};

export interface PlanPair {
  readonly before?: string;
  readonly after?: string;
}

/**
 * Which plan became which: the same path, and of the plans that stand on one side only, those that have most lines in
 * common. Paths come with their texts; the pairs are in the order of the new paths, dropped plans last.
 */
export const pairPlans = (
  before: ReadonlyMap<string, string>,
  after: ReadonlyMap<string, string>,
): readonly PlanPair[] => {
  const gone = new Map([...before].filter(([path]) => !after.has(path)).map(([path, text]) => [path, linesOf(text)]));
  const pairs = [...after].map(([path, text]): PlanPair => {
    if (before.has(path)) return { before: path, after: path };
    const lines = linesOf(text);
    let best: { readonly path: string; readonly like: number } | undefined;
    for (const [old, oldLines] of gone) {
      const like = likeness(oldLines, lines);
      if (like >= ALIKE && (best === undefined || like > best.like)) best = { path: old, like };
    }
    if (best === undefined) return { after: path };
    gone.delete(best.path);
    return { before: best.path, after: path };
  });
  return [...pairs, ...[...gone.keys()].map((path): PlanPair => ({ before: path }))];
};

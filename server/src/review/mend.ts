import type { Edit, Finding, Fix } from '../rulebook/finding.ts';
import { endOf, startOf } from '../text/span.ts';

/** An edit with its offsets in the document. */
interface Cut {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const cutOf = (edit: Edit): Cut => ({ from: startOf(edit.span), to: endOf(edit.span), text: edit.text });

/** Edits that touch count as overlapping: which of the two texts comes first would be a guess. */
const collide = (one: Cut, other: Cut): boolean => one.from <= other.to && other.from <= one.to;

const same = (one: Cut, other: Cut): boolean =>
  one.from === other.from && one.to === other.to && one.text === other.text;

export interface Mended {
  readonly text: string;
  readonly applied: readonly Fix[];
  /** Left out, because they overlap one that was applied or reach into another document. */
  readonly left: readonly Fix[];
}

/** The mends among findings that may be made in bulk: the flight stays the same, and there is only one way to mend. */
export const bulkFixes = (findings: readonly Finding[]): readonly Fix[] =>
  findings.flatMap((finding) => {
    const fixes = finding.fixes ?? [];
    const [only] = fixes;
    return fixes.length === 1 && only?.effect === 'same-flight' ? [only] : [];
  });

/** Parts fixes into those that can be made together, in their order, and the rest. A fix is made whole or not at all. */
export const compatible = (
  document: string,
  fixes: readonly Fix[],
): { readonly together: readonly Fix[]; readonly left: readonly Fix[]; readonly edits: readonly Edit[] } => {
  const together: Fix[] = [];
  const left: Fix[] = [];
  const edits: Edit[] = [];
  const taken: Cut[] = [];
  for (const fix of fixes) {
    const cuts = fix.edits.map(cutOf);
    const here = fix.edits.every((edit) => edit.span.anchor.document === document);
    const repeated = cuts.length > 0 && cuts.every((cut) => taken.some((other) => same(cut, other)));
    if (here && repeated) {
      together.push(fix);
      continue;
    }
    if (!here || cuts.some((cut) => taken.some((other) => collide(cut, other)))) {
      left.push(fix);
      continue;
    }
    together.push(fix);
    taken.push(...cuts);
    edits.push(...fix.edits);
  }
  return { together, left, edits };
};

/** A document's text with fixes made. Every byte outside their edits stays as it is. */
export const applyFixes = (text: string, document: string, fixes: readonly Fix[]): Mended => {
  const { together, left, edits } = compatible(document, fixes);
  const cuts = edits.map(cutOf).sort((one, other) => other.from - one.from || other.to - one.to);
  const mended = cuts.reduce((now, cut) => now.slice(0, cut.from) + cut.text + now.slice(cut.to), text);
  return { text: mended, applied: together, left };
};

import { CodeActionKind } from 'vscode-languageserver';
import { applyFixes, compatible } from '../../review/mend.ts';
import type { Finding, Fix } from '../../rulebook/finding.ts';
import { endOf, startOf } from '../../text/span.ts';
import { sayCount } from '../../units/say.ts';
import type { Judgement } from '../judgement.ts';
import type { Offer } from './offer.ts';

/** Judges a text as if it were the document's. */
export type Rejudge = (text: string) => Promise<readonly Finding[] | undefined>;

/** A rule whose findings can be mended for all of the route at once, and what that comes to. */
const WHOLE: Readonly<Record<string, string>> = {
  'leg-above-height-limit': 'Keep all legs under the height limit',
  'point-above-height-limit': 'Bring all points under the height limit',
  'leg-meets-ground': 'Lift all legs over the ground',
};

/** A mend may move what the next leg hangs on, so that it takes a few rounds. */
const MOST_ROUNDS = 4;
const MOST_CHARACTERS = 200_000;

const ofRule = (findings: readonly Finding[], rule: string): readonly Finding[] =>
  findings.filter((finding) => finding.rule === rule && (finding.fixes ?? []).length > 0);

const firstFixes = (findings: readonly Finding[]): readonly Fix[] => findings.flatMap(({ fixes }) => fixes?.[0] ?? []);

const stops = (findings: readonly Finding[]): ReadonlySet<string> =>
  new Set(findings.filter(({ level }) => level === 'stop').map(({ fingerprint }) => fingerprint));

/** The least piece of a text that differs between two texts. */
const difference = (
  before: string,
  after: string,
): { readonly from: number; readonly to: number; readonly text: string } => {
  let from = 0;
  while (from < before.length && before[from] === after[from]) from++;
  let end = 0;
  while (end < before.length - from && end < after.length - from && before.at(-1 - end) === after.at(-1 - end)) end++;
  return { from, to: before.length - end, text: after.slice(from, after.length - end) };
};

/**
 * "Keep all legs under the limit": the first mend of each finding of a rule, all together, judged again before it is
 * offered. It is offered only where nothing of that rule is left and no other stop has come of it.
 */
export const offerWholeRoute = async (
  judgement: Judgement,
  rule: string,
  rejudge: Rejudge,
): Promise<readonly Offer[]> => {
  const title = WHOLE[rule];
  const { document, findings } = judgement;
  const found = ofRule(findings, rule);
  const [first] = found;
  if (title === undefined || first === undefined || found.length < 2 || document.text.length > MOST_CHARACTERS)
    return [];
  const before = stops(findings);
  let fixes = firstFixes(found);
  let text = document.text;
  let changes = 0;
  for (let round = 0; round < MOST_ROUNDS && fixes.length > 0; round++) {
    const mended = applyFixes(text, document.location, fixes);
    if (mended.applied.length === 0) return [];
    changes += mended.applied.length;
    text = mended.text;
    const left = await rejudge(text);
    if (left === undefined) return [];
    if (!left.some((finding) => finding.rule === rule)) {
      if ([...stops(left)].some((fingerprint) => !before.has(fingerprint))) return [];
      const edits =
        round === 0
          ? compatible(document.location, fixes).edits.map((edit) => ({
              from: startOf(edit.span),
              to: endOf(edit.span),
              text: edit.text,
            }))
          : [difference(document.text, text)];
      return [
        { title: `${title}: ${sayCount(changes, 'change')}`, kind: CodeActionKind.QuickFix, edits, finding: first },
      ];
    }
    fixes = firstFixes(ofRule(left, rule));
  }
  return [];
};

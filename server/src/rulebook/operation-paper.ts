import { type FactTools, given, NotAssessed } from '../facts/fact.ts';
import type { Authorisation, Plan } from '../plan/model.ts';
import type { MetresAboveGround } from '../units/frames.ts';
import { holderMismatch, timeMismatch } from './authorisation-terms.ts';

/** The papers of a plan for its whole operation in the specific category: (EU) 2019/947 Art. 5(5), 12, UAS.LUC.010. */
export const operationPapers = ({ authorisations }: Plan): readonly Authorisation[] =>
  authorisations.filter(({ kind }) => kind !== undefined);

/** "operational authorisation "OA-12"" */
export const sayPaper = ({ kind, number }: Authorisation): string =>
  `${kind?.value ?? 'authorisation'} "${number?.value ?? 'without a number'}"`;

/** What keeps a paper from holding for this flight; undefined where nothing does. Finishes "<paper> ...". */
export const paperMismatch = (paper: Authorisation, tools: FactTools): string | undefined =>
  paper.number === undefined ? 'has no number' : (timeMismatch(paper, tools) ?? holderMismatch(paper, tools));

/** The paper that the operation is flown by: the first that holds, else the first. `NotAssessed` without any. */
export const operationPaper = (tools: FactTools): Authorisation => {
  const papers = operationPapers(tools.plan);
  const holding = papers.find((paper) => paperMismatch(paper, tools) === undefined);
  const paper = holding ?? papers[0];
  if (paper === undefined) {
    throw new NotAssessed('the plan has no operational authorisation, and that is what sets the limits here');
  }
  return paper;
};

/** Up to which height above ground the operation may fly, and by whose word. */
export const operationHeight = (
  tools: FactTools,
): { readonly value: MetresAboveGround; readonly setBy: string; readonly paper: Authorisation } => {
  const paper = operationPaper(tools);
  const upTo = given(paper.upTo, `the height up to which ${sayPaper(paper)} holds (up-to)`);
  if (!('aboveGround' in upTo.value)) {
    throw new NotAssessed(
      `${sayPaper(paper)} gives its height as ${upTo.number} ${upTo.unit} ${upTo.datum}; it needs AGL to be compared`,
    );
  }
  return { value: upTo.value.aboveGround, setBy: sayPaper(paper), paper };
};

/** Whether what an authorisation bounds is the operational volume; in the specific category it is, unless it says otherwise. */
export const boundsVolume = ({ bounds }: Authorisation, { ruleSet }: FactTools): boolean =>
  (bounds?.value ?? (ruleSet === 'eu-specific' ? 'operational volume' : 'flight geography')) === 'operational volume';

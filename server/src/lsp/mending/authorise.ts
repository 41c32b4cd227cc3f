import { CodeActionKind } from 'vscode-languageserver';
import type { Plan } from '../../plan/model.ts';
import type { Finding } from '../../rulebook/finding.ts';
import type { RuleSetId } from '../../rulebook/rule-set.ts';
import { inPlainText } from '../../rulebook/words.ts';
import { RULES } from '../../rules/index.generated.ts';
import { Stops } from '../completion/blanks-to-fill.ts';
import type { OpenDocument } from '../documents.ts';
import { entryInPlan } from './new-entry.ts';
import { inSnippet, type Offer } from './offer.ts';

/** The zone that a finding is about, by its id. */
const zoneOf = ({ rule, subject }: Finding): string | undefined =>
  rule === 'zone-entered-unauthorised' || rule === 'restriction-entered' ? /^zone (.+)$/.exec(subject)?.[1] : undefined;

/**
 * The skeleton of an authorisation or a waiver. What the authority answers is blank: a number or a time that stands there
 * without having been given would lift the finding.
 */
const skeletonFor = (key: 'zone' | 'sections', name: string, hasHeight: boolean): string => {
  const stops = new Stops();
  const number = `number: ${stops.blank()}`;
  const upTo = hasHeight
    ? [`up-to: ${stops.blank()} ${stops.choice(['m', 'ft'])} ${stops.choice(['AGL', 'AMSL'])}`]
    : [];
  const times = [`from: ${stops.blank()}`, `until: ${stops.blank()}`];
  const parts = [number, `${key}: ${inSnippet(inPlainText(name))}`, ...upTo, ...times, `holder: ${stops.blank()}`];
  return `{ ${parts.join(', ')} }`;
};

/** "Ask for an authorisation" and "record a waiver", where the law has one. */
export const offerLeave = (
  finding: Finding,
  document: OpenDocument,
  plan: Plan,
  ruleSet: RuleSetId | undefined,
): readonly Offer[] => {
  const zone = zoneOf(finding);
  const sections = ruleSet === 'us-part-107' ? (RULES.find(({ id }) => id === finding.rule)?.waivable ?? []) : [];
  const offer = (title: string, skeleton: string): readonly Offer[] => {
    const edit = entryInPlan(document, plan, 'authorisations', skeleton);
    return edit === undefined ? [] : [{ title, kind: CodeActionKind.QuickFix, edits: [edit], finding }];
  };
  return [
    ...(zone === undefined
      ? []
      : offer(`Ask for an authorisation for zone ${zone}: add what it has to say`, skeletonFor('zone', zone, true))),
    ...sections.flatMap((section) =>
      offer(
        `Record a waiver of ${section}: add what it says`,
        skeletonFor('sections', section, section.startsWith('14 CFR 107.51(b)')),
      ),
    ),
  ];
};

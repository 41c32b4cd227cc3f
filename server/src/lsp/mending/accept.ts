import { CodeActionKind } from 'vscode-languageserver';
import type { Plan } from '../../plan/model.ts';
import type { Finding, Measure } from '../../rulebook/finding.ts';
import { isAcceptable } from '../../rulebook/rule.ts';
import { sayMeasure } from '../../rulebook/say-measure.ts';
import { RULES } from '../../rules/index.generated.ts';
import { endOf, startOf } from '../../text/span.ts';
import { dateAt, sayDate } from '../../units/calendar.ts';
import { sayNumber } from '../../units/say.ts';
import type { OpenDocument } from '../documents.ts';
import { entryInItem, entryInPlan } from './new-entry.ts';
import type { Offer } from './offer.ts';

/** The value found as a ceiling, in tenths: rounded outwards, so that it covers just what has been found. */
const ceilingOf = ({ measured, limit }: Finding): string | undefined => {
  if (measured === undefined) return undefined;
  const isLess = limit !== undefined && measured.value < limit.value;
  const tenths = isLess ? Math.floor(measured.value * 10) : Math.ceil(measured.value * 10);
  const unit: Readonly<Partial<Record<Measure['unit'], string>>> = { days: 'd' };
  return `${sayNumber(tenths / 10)} ${unit[measured.unit] ?? measured.unit}`;
};

/** An acceptance ends with the flight that it was given for. */
const endOfFlight = (plan: Plan): string | undefined => {
  const until = plan.window?.until?.value;
  return until === undefined ? undefined : sayDate(dateAt(until.at, until.offsetMinutes));
};

/** "Accept with a reason", where the rule allows it: the cursor goes where the reason is owed. */
export const offerAcceptance = (finding: Finding, document: OpenDocument, plan: Plan): readonly Offer[] => {
  const rule = RULES.find(({ id }) => id === finding.rule);
  if (rule === undefined || !(isAcceptable(rule) || finding.level === 'note') || rule.visits === 'slip') return [];
  if (finding.at.anchor.document !== document.location || rule.visits === 'acceptance') return [];
  const ceiling = ceilingOf(finding);
  const until = endOfFlight(plan);
  // A reason is a sentence: without quotes its first comma would make another key.
  const entry = [
    `{ rule: ${rule.id}, because: "\${1}"`,
    ...(ceiling === undefined ? [] : [`, up-to: ${ceiling}`]),
    ...(until === undefined ? [] : [`, until: ${until}`]),
    ' }',
  ].join('');
  const at = startOf(finding.at);
  const item = plan.items.find(({ span }) => startOf(span) <= at && at <= endOf(span));
  const edit =
    item === undefined ? entryInPlan(document, plan, 'accepts', entry) : entryInItem(document, at, 'accepts', entry);
  if (edit === undefined) return [];
  const found = finding.measured === undefined ? '' : ` (found: ${sayMeasure(finding.measured, finding.limit)})`;
  return [
    { title: `Accept ${rule.id} here, with a reason${found}`, kind: CodeActionKind.QuickFix, edits: [edit], finding },
  ];
};

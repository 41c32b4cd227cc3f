import type { Complaint, Finding, Gap, Remark } from '../rulebook/finding.ts';
import type { Rule } from '../rulebook/rule.ts';
import { digestOf } from '../text/digest.ts';
import { startOf } from '../text/span.ts';
import { outdoes } from '../units/exceeds.ts';
import type { Verdicts } from './judge.ts';

/** How many related places a finding shows; the rest are counted. */
const RELATED_SHOWN = 10;

/** How far a complaint is beyond its limit: the worst of a group speaks for it. */
const excess = (complaint: Complaint): number =>
  complaint.measured === undefined || complaint.limit === undefined
    ? 0
    : Math.abs(complaint.measured.value - complaint.limit.value);

/** Complaints with one cause become one, on the field that is to blame. */
const joinCauses = (complaints: readonly Complaint[]): (Complaint & { readonly count: number })[] => {
  const groups = new Map<string, Complaint[]>();
  const order: string[] = [];
  complaints.forEach((complaint, index) => {
    const cause = complaint.cause;
    const lifted = complaint.liftedBy === undefined ? '' : ` lifted by ${complaint.liftedBy.name}`;
    const key = cause === undefined ? `alone ${index}` : `${cause.at.anchor.document}:${startOf(cause.at)}${lifted}`;
    const group = groups.get(key);
    if (group === undefined) {
      groups.set(key, [complaint]);
      order.push(key);
    } else group.push(complaint);
  });
  return order.map((key) => {
    const group = groups.get(key) ?? [];
    const worst = group.reduce((one, other) => (outdoes(excess(other), excess(one)) ? other : one));
    if (worst.cause === undefined) return { ...worst, count: 1 };
    const others: Remark[] = group
      .filter((complaint) => complaint !== worst)
      .map((complaint) => ({ at: complaint.at, message: complaint.message }));
    const atWorst: Remark[] =
      startOf(worst.at) === startOf(worst.cause.at) ? [] : [{ at: worst.at, message: `worst here: ${worst.subject}` }];
    return {
      ...worst,
      at: worst.cause.at,
      subject: worst.cause.name,
      message: group.length === 1 ? worst.message : `${worst.message} (and ${group.length - 1} more like it)`,
      related: [...(worst.related ?? []), ...atWorst, ...others].slice(0, RELATED_SHOWN),
      count: group.length,
    };
  });
};

/** Lasting identity: rule, named subject and ordinal. Neither lines nor values go into it. */
const fingerprint = (rule: string, subject: string, ordinal: number): string =>
  digestOf([rule, subject, String(ordinal)]);

/** Source citations of a rule, as reports print them. */
export const citations = (rule: Rule, ruleSet: string | undefined): readonly string[] =>
  rule.sources
    .filter((source) => source.for === undefined || ruleSet === undefined || source.for.some((id) => id === ruleSet))
    .map((source) => (source.trust === undefined ? source.cite : `${source.cite} (${source.trust})`));

/** The findings of one rule: causes joined, each with its lasting identity. */
export const findingsOf = (verdicts: Verdicts, ruleSet: string | undefined): Finding[] => {
  const ordinals = new Map<string, number>();
  return joinCauses(verdicts.complaints).map((complaint) => {
    const ordinal = ordinals.get(complaint.subject) ?? 0;
    ordinals.set(complaint.subject, ordinal + 1);
    return {
      ...complaint,
      rule: verdicts.rule.id,
      level: complaint.level ?? verdicts.level,
      fingerprint: fingerprint(verdicts.rule.id, complaint.subject, ordinal),
      sources: citations(verdicts.rule, ruleSet),
    };
  });
};

/** Gaps of one rule with the same reason become one, at the first place, with the count. */
export const joinGaps = (gaps: readonly Gap[]): Gap[] => {
  const groups = new Map<string, Gap>();
  for (const gap of gaps) {
    const reason = gap.within === undefined ? gap.reason : `${gap.within}: ${gap.reason.replace(/[\d.]+/g, '#')}`;
    const key = `${gap.kind} ${gap.due ?? ''} ${reason}`;
    const first = groups.get(key);
    groups.set(key, first === undefined ? gap : { ...first, count: first.count + 1 });
  }
  return [...groups.values()];
};

import type { Acceptance, Item, Plan } from '../plan/model.ts';
import type { Finding, Measure } from '../rulebook/finding.ts';
import { isAcceptable, type Rule } from '../rulebook/rule.ts';
import { endOf, startOf } from '../text/span.ts';
import { endOfDay } from '../units/calendar.ts';
import { SHARE_UNITS, TIME_UNITS, type UnitName } from '../units/convert.ts';
import { exceeds } from '../units/exceeds.ts';
import { type Instant, metres } from '../units/frames.ts';
import type { AcceptedFinding } from './outcome.ts';

/** All acceptances of a plan: those of the whole plan and those of its items. */
export const acceptancesOf = (plan: Plan): readonly Acceptance[] => [
  ...plan.accepts,
  ...plan.items.flatMap((item) => item.accepts),
];

const standsIn = (finding: Finding, item: Item): boolean => {
  const { anchor } = item.span;
  if (finding.at.anchor.document !== anchor.document) return false;
  const at = startOf(finding.at);
  return at >= startOf(item.span) && at <= endOf(item.span);
};

/** The landing is what an acceptance must outlast: the window's end, else the time of checking. */
export const landing = (plan: Plan, now: Instant): { readonly at: Instant; readonly offsetMinutes: number } => {
  const until = plan.window?.until?.value ?? plan.window?.from?.value;
  return until === undefined ? { at: now, offsetMinutes: 0 } : until;
};

const DIMENSIONS: Readonly<Record<Measure['unit'], readonly UnitName[]>> = {
  m: ['m', 'mm', 'cm', 'km', 'ft', 'mi', 'NM'],
  'm/s': ['m/s', 'km/h', 'kt', 'mph'],
  s: ['s', 'min', 'h', 'd'],
  days: ['s', 'min', 'h', 'd'],
  kg: ['kg', 'g', 'lb', 'oz'],
  deg: ['deg'],
  C: ['C', 'F'],
  '%': ['%'],
};

/** The ceiling of an acceptance in the unit of a measure; undefined without one, and for one of another dimension. */
export const ceilingFor = ({ upTo }: Acceptance, { unit }: Measure): number | undefined => {
  if (upTo === undefined || !DIMENSIONS[unit].includes(upTo.unit)) return undefined;
  if (unit === '%') return upTo.value / SHARE_UNITS['%'];
  return unit === 'days' ? upTo.value / TIME_UNITS.d : upTo.value;
};

/** Whether a finding stands where an acceptance speaks of. */
export const isAbout = (acceptance: Acceptance, finding: Finding): boolean =>
  acceptance.rule?.value === finding.rule && (acceptance.item === undefined || standsIn(finding, acceptance.item));

/** Whether a part of an acceptance could not be read. It then covers nothing: the part may have been its end. */
export const isUnread = ({ span }: Acceptance, plan: Plan): boolean =>
  plan.unread.some(
    (unread) => unread.anchor === span.anchor && startOf(unread) >= startOf(span) && endOf(unread) <= endOf(span),
  );

/** Whether an acceptance gives a reason: quotes with nothing to read in them are none. */
export const hasReason = ({ because }: Acceptance): boolean =>
  because !== undefined && /[\p{L}\p{N}]/u.test(because.value);

const covers = (acceptance: Acceptance, finding: Finding, plan: Plan, now: Instant): boolean => {
  if (!isAbout(acceptance, finding) || !hasReason(acceptance) || isUnread(acceptance, plan)) return false;
  if (acceptance.until !== undefined) {
    const land = landing(plan, now);
    if (land.at > endOfDay(acceptance.until.value, land.offsetMinutes)) return false;
  }
  if (finding.measured === undefined) return true;
  // A finding with a value needs a ceiling on it: what is worse than the crew has accepted is found again.
  const ceiling = ceilingFor(acceptance, finding.measured);
  if (ceiling === undefined) return false;
  const worse = finding.limit !== undefined && finding.measured.value < finding.limit.value;
  const [value, most] = [metres(finding.measured.value), metres(ceiling)];
  return worse ? !exceeds(most, value) : !exceeds(value, most);
};

/** Parts findings into those that stand and those that the crew accepted; says which acceptances were of use. */
export const applyAcceptances = (
  findings: readonly Finding[],
  plan: Plan,
  rules: ReadonlyMap<string, Rule>,
  now: Instant,
): { readonly standing: Finding[]; readonly accepted: AcceptedFinding[]; readonly used: ReadonlySet<Acceptance> } => {
  const acceptances = acceptancesOf(plan);
  const standing: Finding[] = [];
  const accepted: AcceptedFinding[] = [];
  const used = new Set<Acceptance>();
  for (const finding of findings) {
    const rule = rules.get(finding.rule);
    const by =
      rule !== undefined && (isAcceptable(rule) || finding.level === 'note')
        ? acceptances.find((acceptance) => covers(acceptance, finding, plan, now))
        : undefined;
    if (by === undefined) standing.push(finding);
    else {
      accepted.push({ finding, by });
      used.add(by);
    }
  }
  return { standing, accepted, used };
};

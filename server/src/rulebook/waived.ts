import type { Authorisation, Plan } from '../plan/model.ts';
import { type CalendarDate, dateAt, daysSince1970, sayDate } from '../units/calendar.ts';
import { holderMismatch, timeMismatch } from './authorisation-terms.ts';
import { isPartOf, isWrittenAsZone, namedSections, waivable } from './waiver-sections.ts';

/** A waiver of the plan that names a section. `mismatch` finishes "waiver X ...". */
export interface WaiverOf {
  readonly waiver: Authorisation;
  readonly mismatch: string | undefined;
}

/** 14 CFR 107.29(d): what was issued before this day holds for no night after 17 May 2021. */
const NIGHT_WAIVERS_SINCE: CalendarDate = { year: 2021, month: 4, day: 21 };

const isEarlier = (one: CalendarDate, other: CalendarDate): boolean => daysSince1970(one) < daysSince1970(other);

/** When a waiver was issued: as it says, else at the latest when it begins. */
const issuedBy = ({ issued, from }: Authorisation): CalendarDate | undefined => {
  if (issued !== undefined) return issued.value;
  return from !== undefined && 'date' in from.value ? from.value.date : undefined;
};

/** The last day on which the older waivers held. */
const OLD_WAIVERS_UNTIL: CalendarDate = { year: 2021, month: 5, day: 17 };

/** The day on which a waiver of the rules for night was issued, where that was too early: 14 CFR 107.29(d). */
export const oldNightWaiver = (paper: Authorisation, plan: Plan): CalendarDate | undefined => {
  const until = plan.window?.until?.value;
  if (until !== undefined && !isEarlier(OLD_WAIVERS_UNTIL, dateAt(until.at, until.offsetMinutes))) return undefined;
  if (!namedSections(paper).some(({ section }) => isPartOf(section, '107.29'))) return undefined;
  const issued = issuedBy(paper);
  return issued !== undefined && isEarlier(issued, NIGHT_WAIVERS_SINCE) ? issued : undefined;
};

const boundsOf = (paper: Authorisation, plan: Plan): readonly string[] => {
  const known = [
    paper.number === undefined ? 'has no number' : undefined,
    timeMismatch(paper, { plan }),
    holderMismatch(paper, { plan }),
  ];
  return known.flatMap((mismatch) => mismatch ?? []);
};

/** Why a waiver does not hold for a section in this plan, wherever it is flown. */
const mismatchOf = (paper: Authorisation, section: string, plan: Plan): string | undefined => {
  const known = [...boundsOf(paper, plan)];
  const old = isPartOf(section, '107.29') ? oldNightWaiver(paper, plan) : undefined;
  if (old !== undefined) known.push(`was issued on ${sayDate(old)}, before 2021-04-21`);
  if (waivable(section)?.notForHire === true && plan.propertyForHire?.value === 'yes')
    known.push('is not given for carrying the property of somebody else for pay (14 CFR 107.205)');
  return known.length === 0 ? undefined : known.join('; it ');
};

/** The authorisations of a plan whose `zone` is meant, each with what keeps it from covering the window. */
export const authorisationsFor = (plan: Plan, isMeant: (zone: string) => boolean): readonly WaiverOf[] =>
  plan.authorisations
    .filter(({ zone, sections }) => sections.length === 0 && zone !== undefined && isMeant(zone.value))
    .map((waiver) => ({
      waiver,
      mismatch: waiver.number === undefined ? 'has no number' : timeMismatch(waiver, { plan }),
    }));

/**
 * The waivers of a plan that name a section such as `107.51(b)`, or the whole that it is a paragraph of, each with what
 * keeps it from holding: its number, times and holder. Where it holds is for `liftByWaivers`. What cannot be waived is no
 * waiver at all: 14 CFR 107.200, 107.205.
 */
export const waiversOf = (plan: Plan, section: string): readonly WaiverOf[] =>
  plan.authorisations
    .filter((paper) =>
      namedSections(paper).some((named) => waivable(named.section) !== undefined && isPartOf(section, named.section)),
    )
    .map((waiver) => ({ waiver, mismatch: mismatchOf(waiver, section, plan) }));

/** The name of the zone that bounds a waiver, where it has one. */
export const boundingZone = (paper: Authorisation): string | undefined =>
  isWrittenAsZone(paper) ? undefined : paper.zone?.value;

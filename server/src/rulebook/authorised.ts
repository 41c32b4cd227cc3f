import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import type { ZoneVisits } from '../facts/zone-visits.ts';
import type { Authorisation, DateOrTime } from '../plan/model.ts';
import { endOfDay, sayDate, sayTime, startOfDay } from '../units/calendar.ts';
import { exceeds } from '../units/exceeds.ts';
import type { Instant } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';
import type { Zone } from '../world/zone.ts';

/** An authorisation of the plan against one zone: it covers the visits, why it does not, or why that cannot be told. */
export interface Coverage {
  readonly authorisation: Authorisation;
  /** Undefined = it covers, as far as is known. Finishes "authorisation X ...". */
  readonly mismatch: string | undefined;
  /** What is lacking to tell. */
  readonly lacking?: Missing;
}

const names = (zone: Zone, text: string): boolean => text === zone.id || text === zone.name;

const begins = (when: DateOrTime, offsetMinutes: number): Instant =>
  'time' in when ? when.time.at : startOfDay(when.date, offsetMinutes);
const ends = (when: DateOrTime, offsetMinutes: number): Instant =>
  'time' in when ? when.time.at : endOfDay(when.date, offsetMinutes);
const sayWhen = (when: DateOrTime): string => ('time' in when ? sayTime(when.time) : sayDate(when.date));

const timeMismatch = (authorisation: Authorisation, { plan }: FactTools): string | undefined => {
  const from = plan.window?.from?.value;
  const until = plan.window?.until?.value;
  if (from === undefined || until === undefined)
    return 'cannot be compared with the window, which is missing or could not be read';
  if (authorisation.from === undefined || authorisation.until === undefined)
    return 'does not say from when until when it holds';
  const starts = authorisation.from.value;
  const stops = authorisation.until.value;
  if (begins(starts, from.offsetMinutes) > from.at) return `begins at ${sayWhen(starts)}, after the window does`;
  if (ends(stops, until.offsetMinutes) < until.at) return `ends at ${sayWhen(stops)}, before the window does`;
  return undefined;
};

const heightMismatch = (authorisation: Authorisation, { visits }: ZoneVisits): string | undefined => {
  const upTo = authorisation.upTo;
  if (upTo === undefined) return 'does not say up to which height it holds';
  const most = `${sayNumber(upTo.number, 4)} ${upTo.unit} ${upTo.datum}`;
  for (const visit of visits) {
    const height = upTo.value;
    if ('aboveGround' in height) {
      const greatest = visit.greatestAboveGround();
      if (exceeds(greatest, height.aboveGround))
        return `holds up to ${most}, and ${visit.subject} reaches ${sayNumber(greatest)} m above ground inside the zone`;
    } else if ('aboveSea' in height) {
      const greatest = visit.greatestAboveSea();
      if (exceeds(greatest, height.aboveSea))
        return `holds up to ${most}, and ${visit.subject} reaches ${sayNumber(greatest)} m above mean sea level inside the zone`;
    } else return `gives its height as ${most}; it needs AGL or AMSL to be compared`;
  }
  return undefined;
};

const mismatchOf = (authorisation: Authorisation, zone: ZoneVisits, tools: FactTools): string | undefined => {
  if (authorisation.number === undefined) return 'has no number';
  return timeMismatch(authorisation, tools) ?? heightMismatch(authorisation, zone);
};

/** The authorisations of the plan that name a zone, each with what keeps it from covering the visits. */
export const coverages = (zone: ZoneVisits, tools: FactTools): readonly Coverage[] =>
  tools.plan.authorisations
    .filter((authorisation) => authorisation.zone !== undefined && names(zone.zone, authorisation.zone.value))
    .map((authorisation) => {
      const mismatch = orLacking(() => mismatchOf(authorisation, zone, tools));
      return 'missing' in mismatch
        ? { authorisation, mismatch: undefined, lacking: mismatch }
        : { authorisation, mismatch: mismatch.known };
    });

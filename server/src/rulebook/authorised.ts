import { shapeOfOutline } from '../facts/area-shape.ts';
import type { FactTools } from '../facts/fact.ts';
import { cellsEntered } from '../facts/granted-cells.ts';
import { orLacking } from '../facts/lacking.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import type { ZoneVisit, ZoneVisits } from '../facts/zone-visits.ts';
import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import { TOUCH } from '../geo/ring.ts';
import type { Authorisation } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayCount, sayMetresAgainst, sayMetresAndFeet, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';
import type { GrantedCell } from '../world/zone.ts';
import { holderMismatch, names, timeMismatch } from './authorisation-terms.ts';
import { heightLimit } from './height-limit.ts';
import { isAltitudeAllowedAt, legAllowance } from './structure-exception.ts';
import { bareSection } from './waiver-sections.ts';

/** An authorisation of the plan against one zone: it covers the visits, why it does not, or why that cannot be told. */
export interface Coverage {
  readonly authorisation: Authorisation;
  /** Undefined = it covers, as far as is known. Finishes "authorisation X ...". */
  readonly mismatch: string | undefined;
  /** What is lacking to tell. */
  readonly lacking?: Missing;
}

/**
 * What of a visit counts against the height of an authorisation: all of it, unless that says that what the law allows
 * beside structures is added. Undefined where nothing does.
 */
const countedOf = (
  { aboveStructures }: Authorisation,
  visit: ZoneVisit,
  tools: FactTools,
): { readonly on?: readonly Interval[] } | undefined => {
  if (aboveStructures?.value !== 'yes') return {};
  const limit = heightLimit(tools);
  if ('item' in visit.of) {
    return isAltitudeAllowedAt(visit.of.item, visit.greatestAboveSea(), limit, tools) ? undefined : {};
  }
  const { leg } = visit.of;
  const { length } = tools.ask(pathOfLeg, leg);
  const { allowed } = legAllowance(leg, limit, tools);
  if (allowed.length === 0 || visit.intervals === undefined) return {};
  const on = commonIntervals(freeOf(allowed, { from: 0, to: length }), visit.intervals);
  const counted = on.filter(({ from, to }) => to - from > TOUCH);
  return counted.length === 0 ? undefined : { on: counted };
};

const heightMismatch = (authorisation: Authorisation, { visits }: ZoneVisits, tools: FactTools): string | undefined => {
  const upTo = authorisation.upTo;
  if (upTo === undefined && authorisation.grid !== undefined) return undefined;
  if (upTo === undefined) return 'does not say up to which height it holds';
  const most = `${sayNumber(upTo.number, 4)} ${upTo.unit} ${upTo.datum}`;
  for (const visit of visits) {
    const height = upTo.value;
    const counted = countedOf(authorisation, visit, tools);
    if (counted === undefined) continue;
    if ('aboveGround' in height) {
      const greatest = visit.greatestAboveGround(counted.on);
      if (exceeds(greatest, height.aboveGround))
        return `holds up to ${most}, and ${visit.subject} reaches ${sayNumber(greatest)} m above ground inside the zone`;
    } else if ('aboveSea' in height) {
      const greatest = visit.greatestAboveSea(counted.on);
      if (exceeds(greatest, height.aboveSea))
        return `holds up to ${most}, and ${visit.subject} reaches ${sayNumber(greatest)} m above mean sea level inside the zone`;
    } else return `gives its height as ${most}; it needs AGL or AMSL to be compared`;
  }
  return undefined;
};

const sayGrant = (upTo: GrantedCell['upTo']): string =>
  'aboveGround' in upTo
    ? `${sayMetresAndFeet(upTo.aboveGround)} above ground`
    : `${sayMetresAndFeet(upTo.aboveSea)} above mean sea level`;

/** Of the grid's cells the first in which the flight is higher than it grants, and how many more there are. */
const gridMismatch = ({ grid }: Authorisation, { visits }: ZoneVisits, tools: FactTools): string | undefined => {
  if (grid === undefined) return undefined;
  const beyond = new Map<object, string>();
  for (const visit of visits) {
    const { cells, leavesGrid } = cellsEntered(visit, grid.value, tools);
    if (cells.length === 0) return `names the grid "${grid.value}", which has no cell where ${visit.subject} is`;
    if (leavesGrid) return `names the grid "${grid.value}", and ${visit.subject} leaves its cells inside the zone`;
    for (const { cell, on } of cells) {
      const { upTo } = cell.grants;
      const isOver =
        'aboveGround' in upTo
          ? upTo.aboveGround <= 0 || exceeds(visit.greatestAboveGround(on), upTo.aboveGround)
          : exceeds(visit.greatestAboveSea(on), upTo.aboveSea);
      if (!isOver || beyond.has(cell)) continue;
      const reached =
        'aboveGround' in upTo
          ? `${sayMetresAgainst(visit.greatestAboveGround(on), upTo.aboveGround)} above ground`
          : `${sayMetresAgainst(visit.greatestAboveSea(on), upTo.aboveSea)} above mean sea level`;
      beyond.set(
        cell,
        'aboveGround' in upTo && upTo.aboveGround <= 0
          ? `grants nothing in cell "${cell.name}" without asking by hand, and ${visit.subject} enters it`
          : `grants ${sayGrant(upTo)} in cell "${cell.name}", and ${visit.subject} reaches ${reached} there`,
      );
    }
  }
  const [first, ...more] = beyond.values();
  if (first === undefined) return undefined;
  return `${first}${more.length > 0 ? ` (and in ${sayCount(more.length, 'more cell')})` : ''}`;
};

const areaMismatch = ({ area, areaSpan }: Authorisation, { visits }: ZoneVisits): string | undefined => {
  if (areaSpan === undefined) return undefined;
  if (area === undefined) return 'has an area that could not be read';
  const outline = shapeOfOutline(area);
  const outside = visits.find((visit) => visit.outside(outline) !== undefined);
  return outside === undefined
    ? undefined
    : `holds inside its own area only, and ${outside.subject} leaves that inside the zone`;
};

/** Everything that keeps an authorisation from covering the visits; where nothing known does, what is lacking to tell. */
const coverageOf = (authorisation: Authorisation, zone: ZoneVisits, tools: FactTools): Coverage => {
  const checks = [
    orLacking(() => (authorisation.number === undefined ? 'has no number' : undefined)),
    orLacking(() => timeMismatch(authorisation, tools)),
    orLacking(() => holderMismatch(authorisation, tools)),
    orLacking(() => areaMismatch(authorisation, zone)),
    orLacking(() => heightMismatch(authorisation, zone, tools)),
    orLacking(() => gridMismatch(authorisation, zone, tools)),
  ];
  const known = checks.flatMap((check) => ('missing' in check || check.known === undefined ? [] : [check.known]));
  if (known.length > 0) return { authorisation, mismatch: known.join('; it ') };
  const lacking = checks.find((check) => 'missing' in check);
  return lacking !== undefined && 'missing' in lacking
    ? { authorisation, mismatch: undefined, lacking }
    : { authorisation, mismatch: undefined };
};

/** The authorisations of the plan that name a zone, each with what keeps it from covering the visits. */
export const coverages = (zone: ZoneVisits, tools: FactTools): readonly Coverage[] =>
  tools.plan.authorisations
    .filter((authorisation) => authorisation.zone !== undefined && names(zone.zone, authorisation.zone.value))
    // A waiver that has the zone for its bounds lifts what its sections say, and no more.
    .filter(({ sections }) => sections.length === 0 || sections.some(({ value }) => bareSection(value) === '107.41'))
    .map((authorisation) => coverageOf(authorisation, zone, tools));

/** The authorisation that covers all visits of a zone, if one of them is known to. */
export const coveringOf = (asked: readonly Coverage[]): Authorisation | undefined =>
  asked.find((one) => one.mismatch === undefined && one.lacking === undefined)?.authorisation;

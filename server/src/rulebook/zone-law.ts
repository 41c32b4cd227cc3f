import type { Zone, ZoneRestriction } from '../world/zone.ts';
import type { Level } from './finding.ts';
import { isEuropean, type RuleSetId } from './rule-set.ts';

/** What a rule set asks of a flight inside a zone. */
export interface ZoneDuty {
  readonly level: Level;
  /** Who asks. */
  readonly law: string;
  /** Finishes "... requires ". */
  readonly asks: string;
}

/** Class E needs an authorisation only where it reaches the surface for an airport; F and G need none. */
const isControlled = (zone: Zone): boolean => {
  const { airspaceClass } = zone;
  if (airspaceClass === 'E') return zone.surfaceAreaOfAirport === true;
  return (
    airspaceClass === undefined ||
    airspaceClass === 'A' ||
    airspaceClass === 'B' ||
    airspaceClass === 'C' ||
    airspaceClass === 'D'
  );
};

const CONTROLLED: Readonly<Record<RuleSetId, ZoneDuty>> = {
  'us-part-107': { level: 'stop', law: '14 CFR 107.41', asks: 'prior authorisation from air traffic control' },
  'us-recreational': { level: 'stop', law: '49 U.S.C. 44809(a)(5)', asks: 'prior authorisation' },
  'eu-open': {
    level: 'stop',
    law: '(EU) 2019/947 Art. 15 and UAS.OPEN.060(1)',
    asks: 'an authorisation, or that the State’s publication opens it',
  },
  'eu-specific': {
    level: 'stop',
    law: '(EU) 2019/947 Art. 15 and UAS.SPEC.060(1)',
    asks: 'an authorisation, or that the State’s publication opens it',
  },
};

const RESTRICTED: Readonly<Record<RuleSetId, ZoneDuty>> = {
  'us-part-107': { level: 'stop', law: '14 CFR 107.45', asks: 'permission of the using or controlling agency' },
  'us-recreational': {
    level: 'stop',
    law: '49 U.S.C. 44809(a)(6)',
    asks: 'that airspace restrictions are complied with',
  },
  'eu-open': { level: 'stop', law: '(EU) 2019/947 Art. 15 and UAS.OPEN.060(1)', asks: 'an authorisation' },
  'eu-specific': { level: 'stop', law: '(EU) 2019/947 Art. 15 and UAS.SPEC.060(1)', asks: 'an authorisation' },
};

/** A danger area keeps nobody out by itself: who flies there has to know what goes on. ICAO Annex 2, definition, from memory. */
const DANGER: ZoneDuty = {
  level: 'caution',
  law: 'the publication of the danger area',
  asks: 'knowing what goes on there and when',
};

/** What the kinds of UAS geographical zones ask of a flight under one of the European rule sets, from memory. */
const ofRestriction = (restriction: Exclude<ZoneRestriction, 'none'>, ruleSet: RuleSetId): ZoneDuty => {
  const authorised = RESTRICTED[ruleSet];
  switch (restriction) {
    case 'prohibited':
      return { ...authorised, asks: 'staying out, unless the authority of the zone exempts the flight' };
    case 'authorisation':
      return authorised;
    case 'conditional':
      return { ...authorised, level: 'caution', asks: 'that the conditions of the zone are met' };
    case 'u-space':
      return {
        level: 'stop',
        law: '(EU) 2021/664 Art. 6',
        asks: 'the U-space services and an authorisation of the flight through them',
      };
  }
};

/** Where recreational flight in class E away from an airport's surface area is treated as closed: published guidance. */
const RECREATION_IN_E: ZoneDuty = {
  level: 'caution',
  law: 'the guidance to 49 U.S.C. 44809(a)(5) and (6)',
  asks: 'staying out of class E, which is treated as not open to recreation',
};

/** What entering a zone asks under a rule set; undefined where it asks nothing. */
export const zoneDuty = (zone: Zone, ruleSet: RuleSetId): ZoneDuty | undefined => {
  if (zone.kind === 'house') return { level: 'stop', law: 'the house', asks: zone.text ?? 'leave of the house' };
  if (zone.kind === 'danger') return DANGER;
  if (zone.kind === 'cell') return undefined;
  if (zone.restriction === 'none') return undefined;
  if (zone.restriction !== undefined && isEuropean(ruleSet)) {
    return ofRestriction(zone.restriction, ruleSet);
  }
  if (zone.kind !== 'controlled') return RESTRICTED[ruleSet];
  if (isControlled(zone)) return CONTROLLED[ruleSet];
  return ruleSet === 'us-recreational' && zone.airspaceClass === 'E' ? RECREATION_IN_E : undefined;
};

/** "class D airspace "Lakes tower"", "restricted area "Range 12"" */
export const sayZone = (zone: Zone): string => {
  const name = `"${zone.name}"`;
  if (zone.kind === 'house' || zone.kind === 'geographical') return `${zone.kind} zone ${name}`;
  if (zone.kind !== 'controlled') return `${zone.kind} area ${name}`;
  return zone.airspaceClass === undefined
    ? `controlled airspace ${name}`
    : `class ${zone.airspaceClass} airspace ${name}`;
};

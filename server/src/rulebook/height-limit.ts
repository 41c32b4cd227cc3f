import type { FactTools } from '../facts/fact.ts';
import { NotAssessed } from '../facts/fact.ts';
import type { Span } from '../text/span.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { aboveGround, type Metres, type MetresAboveGround } from '../units/frames.ts';
import { sayMetresAgainst, sayMetresAndFeet } from '../units/say.ts';
import type { LimitMeasure } from './finding.ts';
import { HOUSE, sayReason } from './house.ts';
import { operationHeight } from './operation-paper.ts';
import type { Source } from './rule.ts';

/**
 * 400 ft above ground: 14 CFR 107.51(b) and 49 U.S.C. 44809(a)(6). 120 m from the closest point of the surface:
 * (EU) 2019/947 UAS.OPEN.010(2); it is less than 400 ft, and the "400 ft" printed beside it in guidance is a rounding.
 */
const LAW = {
  'us-recreational': { value: aboveGround(400 * LENGTH_UNITS.ft), setBy: '49 U.S.C. 44809(a)(6)' },
  'us-part-107': { value: aboveGround(400 * LENGTH_UNITS.ft), setBy: '14 CFR 107.51(b)' },
  'eu-open': { value: aboveGround(120), setBy: '(EU) 2019/947 UAS.OPEN.010(2)' },
} as const;

/** Where the limits stand: every rule about them cites the same. */
export const HEIGHT_SOURCES: readonly Source[] = [
  { cite: '49 U.S.C. 44809(a)(6)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
  { cite: '14 CFR 107.51(b)', edition: '2026-01-01', for: ['us-part-107'] },
  { cite: '(EU) 2019/947 UAS.OPEN.010(2)', edition: '2026-10-10', for: ['eu-open'] },
  { cite: '(EU) 2019/947 Art. 12, UAS.SPEC.050', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
];

export interface HeightLimit {
  readonly value: MetresAboveGround;
  readonly setBy: string;
  /** What the height is measured to: the ground straight below, or the nearest place of the ground in any direction. */
  readonly from: 'ground below' | 'nearest ground';
  /** In a message: "14 CFR 107.51(b) allows at most 121.92 m (400 ft)". */
  readonly said: string;
  readonly measure: LimitMeasure;
  /** Where the house wrote it, if the house did. */
  readonly span?: Span;
}

/**
 * The greatest height of the flight: the law's, or the house's where that is lower. In the specific category it is that of
 * the operational authorisation.
 */
export const heightLimit = (tools: FactTools): HeightLimit => {
  const { ruleSet, settings } = tools;
  if (ruleSet === undefined) throw new NotAssessed('the rule set is not known');
  const law = ruleSet === 'eu-specific' ? operationHeight(tools) : LAW[ruleSet];
  const house = settings.limits.height;
  const written = house?.value.value;
  const lower = written !== undefined && 'aboveGround' in written && written.aboveGround < law.value;
  const value = lower ? written.aboveGround : law.value;
  const setBy = lower ? HOUSE : law.setBy;
  return {
    value,
    setBy,
    from: ruleSet === 'eu-open' && !lower ? 'nearest ground' : 'ground below',
    said: `${setBy} allows at most ${sayMetresAndFeet(value)}${lower ? sayReason(house) : ''}`,
    measure: { value, unit: 'm', frame: 'above ground', setBy },
    ...(lower && house !== undefined ? { span: house.span } : {}),
  };
};

/** Whether the law's own limit holds, not a lower one of the house. */
export const isLimitOfLaw = ({ span }: HeightLimit): boolean => span === undefined;

/**
 * How far a craft is from the nearest ground, in a message: "125.3 m from the nearest ground (130 m above the ground below
 * it)". Ground farther away than four times the limit is not looked for.
 */
export const sayFromNearest = (distance: Metres, below: MetresAboveGround, limit: HeightLimit): string => {
  const much = below > distance && distance >= 4 * limit.value ? 'more than ' : '';
  return `${much}${sayMetresAgainst(distance, limit.value)} from the nearest ground (${sayMetresAgainst(below, limit.value)} above the ground below it)`;
};

/** The law's own figure, for the rule about house limits that are looser. */
export const lawHeight = (ruleSet: keyof typeof LAW): { readonly value: MetresAboveGround; readonly setBy: string } =>
  LAW[ruleSet];

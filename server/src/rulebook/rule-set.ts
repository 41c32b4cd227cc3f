/** The sets of rules that a flight can be judged by. */
export type RuleSetId = 'us-recreational' | 'us-part-107' | 'eu-open' | 'eu-specific';

export interface RuleSet {
  readonly id: RuleSetId;
  /** In a sentence: "judged by the rules for …". */
  readonly name: string;
  /** The day up to which the rule texts behind it were read. */
  readonly edition: string;
}

export const RULE_SETS: Readonly<Record<RuleSetId, RuleSet>> = {
  'us-recreational': {
    id: 'us-recreational',
    name: 'recreational flight in the United States (49 U.S.C. 44809)',
    edition: '2026-11-25',
  },
  'us-part-107': {
    id: 'us-part-107',
    name: 'small unmanned aircraft in the United States (14 CFR part 107)',
    edition: '2026-11-25',
  },
  'eu-open': {
    id: 'eu-open',
    name: 'the open category of the European Union ((EU) 2019/947)',
    edition: '2026-11-25',
  },
  'eu-specific': {
    id: 'eu-specific',
    name: 'the specific category of the European Union ((EU) 2019/947)',
    edition: '2026-11-25',
  },
};

/** Whether (EU) 2019/947 applies, in whichever category. */
export const isEuropean = (ruleSet: RuleSetId | undefined): boolean =>
  ruleSet === 'eu-open' || ruleSet === 'eu-specific';

export const RULE_SET_IDS = Object.keys(RULE_SETS) as readonly RuleSetId[];

import type { RuleSetId } from './rule-set.ts';

/**
 * States in which (EU) 2019/947 applies: the 27 members of the Union, and Iceland, Liechtenstein, Norway (EEA) and
 * Switzerland (bilateral agreement). ISO 3166-1 alpha-2 codes. List from memory.
 */
const EUROPEAN_STATES = new Set(
  'AT BE BG HR CY CZ DK EE FI FR DE GR HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE IS LI NO CH'.split(' '),
);

/** The word that selects recreational flight where the law knows it. No other word does. */
export const RECREATION = 'recreation';

export type Selection =
  | { readonly ruleSet: RuleSetId; readonly because?: never }
  | { readonly ruleSet?: never; readonly because: string };

/** The category that selects the rules for an operation with an authorisation of its own: (EU) 2019/947 Art. 5. */
const SPECIFIC = 'specific';

/** The rule set of a country, a purpose and in Europe a category, or why there is none. */
export const selectRuleSet = (
  country: string | undefined,
  purpose: string | undefined,
  category?: string,
): Selection => {
  if (country === undefined) return { because: 'neither the plan nor the settings state a country' };
  const code = country.trim().toUpperCase();
  if (code === 'US') {
    if (purpose === undefined)
      return { because: 'the plan states no purpose, and in the United States the purpose selects the rule set' };
    return { ruleSet: purpose.trim().toLowerCase() === RECREATION ? 'us-recreational' : 'us-part-107' };
  }
  if (EUROPEAN_STATES.has(code)) return { ruleSet: category === SPECIFIC ? 'eu-specific' : 'eu-open' };
  if (code === 'GB' || code === 'UK') return { because: 'the rules of the United Kingdom are not in this release' };
  if (!/^[A-Z]{2}$/.test(code))
    return { because: `"${country}" is not the two-letter code of a country, such as US or FR` };
  return { because: `no rule set for the country "${country}" is in this release` };
};

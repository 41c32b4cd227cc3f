import type { Aircraft } from '../plan/aircraft.ts';
import { MASS_UNITS } from '../units/convert.ts';
import { kilograms } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { defineFact, given, NotAssessed } from './fact.ts';

/** Whether the law asks for a registration, and by which words; `because` finishes "the aircraft ...". */
export interface RegistrationDuty {
  readonly needed: boolean;
  readonly law: string;
  /** The law with its verb: "14 CFR 107.13 and part 48 require". */
  readonly requires: string;
  readonly because: string;
}

/**
 * 0.55 lb on take-off, everything on board included, is 249.4758 g: the popular "250 g" is a rounding. 14 CFR 48.15(b).
 * The mass at which an EU operator registers: 250 g or more, (EU) 2019/947 Art. 14(5)(a)(i).
 */
export const US_REGISTRATION_MASS = kilograms(0.55 * MASS_UNITS.lb);
export const EU_REGISTRATION_MASS = kilograms(0.25);

/** Differences below a tenth of a milligram are the arithmetic's: 8.8 oz are 0.55 lb. */
const SCALE = 1e-7;

export const registrationDuty = defineFact({
  name: 'registration duty',
  derive: (aircraft: Aircraft, { ruleSet }): RegistrationDuty => {
    if (ruleSet === 'us-part-107') {
      return {
        needed: true,
        law: '14 CFR 107.13 and part 48',
        requires: '14 CFR 107.13 and part 48 require',
        because: 'flies under part 107, where every aircraft is registered, whatever its mass',
      };
    }
    if (ruleSet === 'eu-specific') {
      const law = '(EU) 2019/947 Art. 14(5)';
      const because = 'flies in the specific category, whose operators are registered, whatever it weighs';
      return { needed: true, law, requires: `${law} requires`, because };
    }
    const grams = (kilograms: number): string => `${sayNumber(kilograms * 1000, 4)} g`;
    const mass = given(aircraft.mass, 'the take-off mass of the aircraft').value;
    if (ruleSet === 'us-recreational') {
      const law = '14 CFR 48.15 and 49 U.S.C. 44809(a)(8)';
      const requires = `${law} require`;
      return mass - US_REGISTRATION_MASS > SCALE
        ? {
            needed: true,
            law,
            requires,
            because: `weighs ${grams(mass)} on take-off, more than ${grams(US_REGISTRATION_MASS)} (0.55 lb)`,
          }
        : {
            needed: false,
            law,
            requires,
            because: `weighs ${grams(mass)} on take-off, not more than ${grams(US_REGISTRATION_MASS)} (0.55 lb)`,
          };
    }
    if (ruleSet === 'eu-open') {
      const law = '(EU) 2019/947 Art. 14(5)';
      const requires = `${law} requires`;
      return EU_REGISTRATION_MASS - mass <= SCALE
        ? { needed: true, law, requires, because: `weighs ${grams(mass)}, which is 250 g or more` }
        : { needed: false, law, requires, because: `weighs ${grams(mass)}, less than 250 g` };
    }
    throw new NotAssessed('the rule set is not known');
  },
});

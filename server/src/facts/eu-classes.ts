import type { Aircraft } from '../plan/aircraft.ts';
import {
  type Kilograms,
  kilograms,
  type Metres,
  type MetresPerSecond,
  metres,
  metresPerSecond,
} from '../units/frames.ts';
import { given } from './fact.ts';

/** What the mark of a class says of every aircraft that bears it. Masses and sizes stay below, speeds may be reached. */
export interface ClassLimits {
  readonly massBelow?: Kilograms;
  readonly speedUpTo?: MetresPerSecond;
  readonly sizeBelow?: Metres;
}

/** (EU) 2019/945, annex, parts 1 to 5, read in secondary copies. A C1 may weigh more than 900 g: the other limb is 80 J. */
export const CLASS_LIMITS: Readonly<Record<'C0' | 'C1' | 'C2' | 'C3' | 'C4', ClassLimits>> = {
  C0: { massBelow: kilograms(0.25), speedUpTo: metresPerSecond(19) },
  C1: { speedUpTo: metresPerSecond(19) },
  C2: { massBelow: kilograms(4) },
  C3: { massBelow: kilograms(25), sizeBelow: metres(3) },
  C4: { massBelow: kilograms(25) },
};

/** Below these an aircraft that its owner built may fly in A1: (EU) 2019/947 UAS.OPEN.020(5)(a). */
const LIGHT = kilograms(0.25);
const SLOW = metresPerSecond(19);

export type OpenCategory = 'A1' | 'A2' | 'A3';

/** The subcategories that an aircraft may fly in, and why; `because` finishes "the aircraft ...". */
export interface CategoriesOf {
  readonly open: readonly OpenCategory[];
  readonly because: string;
}

const ofClass: Readonly<Record<string, readonly OpenCategory[]>> = {
  C0: ['A1', 'A3'],
  C1: ['A1', 'A3'],
  C2: ['A2', 'A3'],
  C3: ['A3'],
  C4: ['A3'],
};

/**
 * (EU) 2019/947 UAS.OPEN.020(5), .030(3), .040(4) and Art. 20: by class mark; without one by mass, and for one that its
 * owner built also by its greatest speed. Throws where the aircraft file does not tell what decides.
 */
export const categoriesOf = (aircraft: Aircraft): CategoriesOf => {
  const { value } = given(aircraft.euClass, 'the class of the aircraft ("eu-class")');
  const open = ofClass[value];
  if (open !== undefined) return { open, because: `is of class ${value}` };
  const mark = value === 'private' ? 'was built by its owner' : 'has no class mark';
  const { value: mass } = given(aircraft.mass, 'the take-off mass of the aircraft');
  if (mass >= LIGHT) return { open: ['A3'], because: `${mark} and weighs 250 g or more` };
  if (value !== 'private') return { open: ['A1', 'A3'], because: `${mark} and weighs less than 250 g` };
  const { value: speed } = given(aircraft.maxSpeed, 'the greatest speed of the aircraft ("max-speed")');
  return speed < SLOW
    ? { open: ['A1', 'A3'], because: `${mark}, weighs less than 250 g and flies slower than 19 m/s` }
    : { open: ['A3'], because: `${mark} and can fly 19 m/s or more` };
};

/** Whether its pilot needs no proof of any test: C0, or below 250 g without a mark, in A1. (EU) 2019/947 UAS.OPEN.020(4). */
export const needsNoProof = (aircraft: Aircraft): boolean => {
  const { value } = given(aircraft.euClass, 'the class of the aircraft ("eu-class")');
  if (value === 'C0') return true;
  return (value === 'legacy' || value === 'private') && categoriesOf(aircraft).open.includes('A1');
};

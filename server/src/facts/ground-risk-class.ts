import type { Aircraft } from '../plan/aircraft.ts';
import type { GroundRisk, Mitigation, Population, SoraEdition } from '../plan/ground-risk.ts';
import { sayNumber } from '../units/say.ts';
import { given, NotAssessed } from './fact.ts';
import { kineticEnergy, terminalSpeed } from './impact-energy.ts';

/**
 * Intrinsic ground risk class. Sources: JARUS SORA 2.5 main body, table 2 (JAR_doc_25, p. 34), and SORA 2.0 main body,
 * table 2 (JAR_doc_06, p. 20-21); both read in secondary copies.
 */

/** A class of the table, or `outside` where the method does not go. */
export type IntrinsicClass = number | 'outside';

interface Column25 {
  readonly size: number;
  readonly speed: number;
}

/** Both the largest dimension in metres and the greatest speed in m/s have to fit. */
const COLUMNS_25: readonly Column25[] = [
  { size: 1, speed: 25 },
  { size: 3, speed: 35 },
  { size: 8, speed: 75 },
  { size: 20, speed: 120 },
  { size: 40, speed: 200 },
];

const CONTROLLED_25: readonly IntrinsicClass[] = [1, 1, 2, 3, 3];

/** Rows by the density that they stay below, in people on a square kilometre; the last one has no end. */
const ROWS_25: readonly { readonly below: number; readonly classes: readonly IntrinsicClass[] }[] = [
  { below: 5, classes: [2, 3, 4, 5, 6] },
  { below: 50, classes: [3, 4, 5, 6, 7] },
  { below: 500, classes: [4, 5, 6, 7, 8] },
  { below: 5000, classes: [5, 6, 7, 8, 9] },
  { below: 50_000, classes: [6, 7, 8, 9, 10] },
  { below: Number.POSITIVE_INFINITY, classes: [7, 8, 'outside', 'outside', 'outside'] },
];

/** An aircraft of at most 250 g and 25 m/s is in class 1 whatever the density: SORA 2.5. */
const LIGHTEST = { mass: 0.25, speed: 25 } as const;

export interface Ground25 {
  readonly size: number;
  readonly maxSpeed: number;
  readonly mass?: number;
  /** People on a square kilometre, or ground that is under control. */
  readonly density: number | 'controlled ground';
}

export const intrinsicClass25 = ({ size, maxSpeed, mass, density }: Ground25): IntrinsicClass => {
  if (mass !== undefined && mass <= LIGHTEST.mass && maxSpeed <= LIGHTEST.speed) return 1;
  const column = COLUMNS_25.findIndex((each) => size <= each.size && maxSpeed <= each.speed);
  const classes =
    density === 'controlled ground' ? CONTROLLED_25 : ROWS_25.find(({ below }) => density < below)?.classes;
  return classes?.[column] ?? 'outside';
};

/** The largest dimension in metres and the typical energy in joules of each column but the last, which has no end. */
const COLUMNS_20: readonly { readonly size: number; readonly energy: number }[] = [
  { size: 1, energy: 700 },
  { size: 3, energy: 34_000 },
  { size: 8, energy: 1_084_000 },
];

const ROWS_20: Readonly<
  Record<'controlled ground' | Population, Readonly<Record<'VLOS' | 'BVLOS', readonly IntrinsicClass[]>>>
> = {
  'controlled ground': { VLOS: [1, 2, 3, 4], BVLOS: [1, 2, 3, 4] },
  'sparsely populated': { VLOS: [2, 3, 4, 5], BVLOS: [3, 4, 5, 6] },
  populated: { VLOS: [4, 5, 6, 8], BVLOS: [5, 6, 8, 10] },
  'gathering of people': {
    VLOS: [7, 'outside', 'outside', 'outside'],
    BVLOS: [8, 'outside', 'outside', 'outside'],
  },
};

export interface Ground20 {
  readonly size: number;
  /** Typical kinetic energy in joules. */
  readonly energy: number;
  readonly population: 'controlled ground' | Population;
  readonly sight: 'VLOS' | 'BVLOS';
}

export const intrinsicClass20 = ({ size, energy, population, sight }: Ground20): IntrinsicClass => {
  const fits = COLUMNS_20.findIndex((each) => size <= each.size && energy < each.energy);
  return ROWS_20[population][sight][fits === -1 ? COLUMNS_20.length : fits] ?? 'outside';
};

/** What each mitigation takes off the class: SORA 2.5 annex B, SORA 2.0 table 3. */
const REDUCES: Readonly<Record<SoraEdition, Partial<Readonly<Record<Mitigation, number>>>>> = {
  'SORA 2.5': {
    'M1(A) low': 1,
    'M1(A) medium': 2,
    'M1(B) medium': 1,
    'M1(B) high': 2,
    'M1(C) low': 1,
    'M2 medium': 1,
    'M2 high': 2,
  },
  'SORA 2.0': {
    'M1 low': 1,
    'M1 medium': 2,
    'M1 high': 4,
    'M2 medium': 1,
    'M2 high': 2,
    'M3 none': -1,
    'M3 adequate': 0,
    'M3 validated': 1,
  },
};

/** The mitigations of another edition, or stated twice; they count for nothing. */
const unusable = (edition: SoraEdition, mitigations: readonly Mitigation[]): Mitigation | undefined => {
  const kindOf = (one: Mitigation): string => one.split(' ')[0] ?? one;
  return mitigations.find(
    (one, i) =>
      REDUCES[edition][one] === undefined || mitigations.slice(0, i).some((before) => kindOf(before) === kindOf(one)),
  );
};

/**
 * The class after the mitigations. Those of M1 do not bring it below the class of controlled ground in the same column
 * (from memory); SORA 2.0 adds one where no plan for emergencies (M3) is stated.
 */
export const finalClass = (
  initial: number,
  lowest: number,
  edition: SoraEdition,
  mitigations: readonly Mitigation[],
): number => {
  const taken = (of: (one: Mitigation) => boolean): number =>
    mitigations.filter(of).reduce((sum, one) => sum + (REDUCES[edition][one] ?? 0), 0);
  const isFirst = (one: Mitigation): boolean => one.startsWith('M1');
  const afterFirst = Math.max(Math.min(initial, lowest), initial - taken(isFirst));
  const withoutPlan = edition === 'SORA 2.0' && !mitigations.some((one) => one.startsWith('M3')) ? 1 : 0;
  return afterFirst - taken((one) => !isFirst(one)) + withoutPlan;
};

export interface GroundRiskClass {
  readonly edition: SoraEdition;
  readonly initial: IntrinsicClass;
  /** Undefined where the initial class is outside the method. */
  readonly final: number | undefined;
  /** What it was worked out from: "0.5 m, 16 m/s and 300 people/km2". */
  readonly from: string;
}

const typicalEnergy = (aircraft: Aircraft): number => {
  const mass = given(aircraft.mass, 'the take-off mass of the aircraft').value;
  const flown = given(aircraft.maxSpeed, 'the max-speed of the aircraft').value;
  const falling = aircraft.dragArea === undefined ? 0 : terminalSpeed(mass, aircraft.dragArea.value);
  return kineticEnergy(mass, Math.max(flown, falling));
};

const initialClasses = (
  stated: GroundRisk,
  edition: SoraEdition,
  aircraft: Aircraft,
): { readonly initial: IntrinsicClass; readonly lowest: IntrinsicClass; readonly from: string } => {
  const size = given(aircraft.size, 'the largest dimension of the aircraft (size)').value;
  const controlled = stated.controlledGround?.value === 'yes';
  if (edition === 'SORA 2.5') {
    const maxSpeed = given(aircraft.maxSpeed, 'the max-speed of the aircraft').value;
    const mass = aircraft.mass?.value;
    const density = controlled
      ? ('controlled ground' as const)
      : given(stated.density, 'the density of people (ground-risk: density)').value;
    const craft = { size, maxSpeed, ...(mass === undefined ? {} : { mass }) };
    return {
      initial: intrinsicClass25({ ...craft, density }),
      lowest: intrinsicClass25({ ...craft, density: 'controlled ground' }),
      from: `${sayNumber(size, 2)} m, ${sayNumber(maxSpeed)} m/s and ${typeof density === 'number' ? `${sayNumber(density)} people/km2` : density}`,
    };
  }
  const energy = typicalEnergy(aircraft);
  const population = controlled
    ? ('controlled ground' as const)
    : given(stated.population, 'how the ground is populated (ground-risk: population)').value;
  const sight = given(stated.sight, 'whether it is flown within sight (ground-risk: sight)').value;
  return {
    initial: intrinsicClass20({ size, energy, population, sight }),
    lowest: intrinsicClass20({ size, energy, population: 'controlled ground', sight }),
    from: `${sayNumber(size, 2)} m, ${sayNumber(energy, 0)} J, ${population} and ${sight}`,
  };
};

/** The class of an aircraft over the ground that a plan states, by the edition that it names. */
export const groundRiskClass = (stated: GroundRisk, aircraft: Aircraft): GroundRiskClass => {
  const edition = given(stated.edition, 'the edition of SORA (ground-risk: edition)').value;
  const { initial, lowest, from } = initialClasses(stated, edition, aircraft);
  if (initial === 'outside') return { edition, initial, final: undefined, from };
  if (stated.mitigationsUnread) throw new NotAssessed('a mitigation of the ground risk could not be read');
  const mitigations = stated.mitigations.map(({ value }) => value);
  const wrong = unusable(edition, mitigations);
  if (wrong !== undefined) {
    throw new NotAssessed(
      `mitigation "${wrong}" is none of ${edition}, or stands for a second robustness of the same one`,
    );
  }
  const least = lowest === 'outside' ? initial : lowest;
  return { edition, initial, final: finalClass(initial, least, edition, mitigations), from };
};

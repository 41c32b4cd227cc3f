import { FREE_FALL } from './fall-reach.ts';

/** A foot-pound in joules: the foot and the pound-force of NIST SP 811 (2008) app. B. */
export const FOOT_POUND = 0.3048 * 4.4482216152605;

/**
 * Severities of injury in terms of the energy that a rigid object transfers: 14 CFR 107.120(a)(1) (category 2) and
 * 107.130(a)(1) (category 3); and the energy transmitted to the head of (EU) 2019/945 Annex Part 2 (class C1). None of them
 * bounds m v² / 2 in flight: an aircraft that gives way may carry more and still meet them, which its declaration shows.
 */
export const INJURY = {
  'category 2': { joules: 11 * FOOT_POUND, said: '11 ft-lb (14.9 J)', law: '14 CFR 107.120(a)(1)' },
  'category 3': { joules: 25 * FOOT_POUND, said: '25 ft-lb (33.9 J)', law: '14 CFR 107.130(a)(1)' },
  C1: { joules: 80, said: '80 J', law: '(EU) 2019/945 Annex Part 2' },
} as const;

/** Kinetic energy in joules of a mass in kg at a speed in m/s. */
export const kineticEnergy = (mass: number, speed: number): number => (mass * speed * speed) / 2;

/** Density of air at sea level in the standard atmosphere, kg/m³: ICAO Doc 7488. */
const AIR = 1.225;

/** Speed in m/s at which the air holds a falling body of so much drag (coefficient times area, m²): sqrt(2 m g / (rho Cd A)). */
export const terminalSpeed = (mass: number, dragArea: number): number =>
  Math.sqrt((2 * mass * FREE_FALL) / (AIR * dragArea));

/** Speed in m/s after a fall of so many metres from rest; with drag v = vt sqrt(1 - exp(-2 g h / vt²)). */
export const fallSpeed = (height: number, mass: number, dragArea: number | undefined): number => {
  const fallen = Math.max(0, height);
  if (dragArea === undefined) return Math.sqrt(2 * FREE_FALL * fallen);
  const most = terminalSpeed(mass, dragArea);
  return most * Math.sqrt(1 - Math.exp((-2 * FREE_FALL * fallen) / (most * most)));
};

import type { CourseVolume } from '../facts/course-volume.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';
import type { Source } from './rule.ts';

/** Who gives the formulae of the volumes. */
export const VOLUME_GUIDANCE = 'the guidance of LBA for SORA volumes';

export const VOLUME_SOURCES: readonly Source[] = [
  {
    cite: 'LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7',
    edition: '2024-11-26',
    trust: 'secondary copy',
  },
  { cite: 'JARUS SORA, semantic model', edition: '2.5', trust: 'secondary copy' },
];

/** The formulae in one sentence, for the condition of a rule. */
export const VOLUME_FORMULAE =
  'The contingency volume reaches sideways by half of the flight geography (1.5 times the largest dimension of the aircraft), 7 m for the errors of position, path and map, one second of flight, and the way to a stop (multirotor: V² / (2 × 9.81 m/s² × tan of the tilt, at most 45°)) or of a turn about (fixed wing: V² / (9.81 m/s² × tan of the bank, at most 30°)); upwards by half of the flight geography, 1 m (barometer) or 4 m (satellites), 0.7 s of flight, and V² / 2g (multirotor) or 0.3 V² / g (fixed wing). V is the greatest speed over the ground on each leg and in each area; where the plan gives none, the cruise speed of the aircraft in the wind, else its greatest speed with the strongest wind.';

/** "18.3 m to each side at 8 m/s", with the decimals it takes to tell it from the room there is. */
export const saySideways = ({ beside, speed }: CourseVolume, room: number): string =>
  `${sayMetresAgainst(beside, room)} to each side at ${sayNumber(speed)} m/s`;

/** What the reach is made of, for a remark. */
export const sayParts = ({ geography, sideways, above, speed }: CourseVolume): string =>
  `at ${sayNumber(speed)} m/s over the ground: ${sayNumber(geography)} m half of the flight geography, ${sayNumber(sideways.errors)} m errors, ${sayNumber(sideways.reaction)} m reaction, ${sayNumber(sideways.manoeuvre)} m stop or turn; ${sayNumber(above)} m upwards`;

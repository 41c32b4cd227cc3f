import type { Aircraft } from '../plan/aircraft.ts';
import type { BufferKind } from '../plan/ground-risk.ts';
import {
  aboveGround,
  type Degrees,
  degrees,
  type Metres,
  type MetresAboveGround,
  type MetresPerSecond,
  metres,
  type Seconds,
} from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import { given, NotAssessed } from './fact.ts';

/**
 * The volumes around a flight: the flight geography in which it is planned, the contingency volume in which it is brought
 * back under control, and the ground risk buffer in which it comes down if that fails.
 *
 * Source of all formulae: LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7
 * (2024-11-26), for the semantic model of JARUS SORA; read in a secondary copy.
 */

/** As the guidance has it, not the standard acceleration of free fall. */
const GRAVITY = 9.81;

/** Error of satellite positions, of keeping the path, and of the map, in metres. */
const POSITION_ERRORS = 3 + 3 + 1;

/** From the moment that something goes wrong until it is answered, in seconds. */
const REACTION = 1;

/** Error of the height in metres by what it is measured by. */
const HEIGHT_ERROR = { barometer: 1, satellites: 4 } as const;

/** Share of the speed with which a craft shoots up before it is answered: the sine of 45°, as the guidance rounds it. */
const UPWARDS = 0.7;

/** Greatest tilt of a multirotor for its stop and greatest bank of a fixed wing for its turn. */
const MOST_TILT = degrees(45);
const MOST_BANK = degrees(30);

/** With less the way to a stop grows beyond all bounds; common practice, no source. */
const LEAST_BANK = degrees(1);

/** The flight geography is at least three times as wide and high as the aircraft. */
const GEOGRAPHY_SIZES = 3;

/** What of an aircraft the volumes depend on. */
export interface VolumeCraft {
  readonly kind: 'multirotor' | 'fixed-wing';
  /** Largest dimension. */
  readonly size: Metres;
  /** For its stop or its turn; the greatest that counts, where the file gives none or a greater one. */
  readonly bank: Degrees;
  readonly altimeter: 'barometer' | 'satellites';
  readonly parachute?: { readonly opensIn: Seconds; readonly sinks: MetresPerSecond };
  /** Metres that it glides for each metre of height. */
  readonly glideRatio?: number;
}

/** Throws `NotAssessed` where the file lacks kind or size. */
export const volumeCraft = (aircraft: Aircraft): VolumeCraft => {
  const kind = given(aircraft.kind, 'the kind of the aircraft (multirotor or fixed-wing)').value;
  const size = given(aircraft.size, 'the largest dimension of the aircraft (size)').value;
  const most = kind === 'multirotor' ? MOST_TILT : MOST_BANK;
  const { parachute, glideRatio, bank } = aircraft;
  if (bank !== undefined && bank.value < LEAST_BANK) {
    throw new NotAssessed(
      `an aircraft that banks ${sayNumber(bank.value)} deg at most (bank) hardly stops or turns at all`,
    );
  }
  return {
    kind,
    size,
    bank: degrees(Math.min(most, bank?.value ?? most)),
    altimeter: aircraft.altimeter?.value ?? 'satellites',
    ...(parachute === undefined
      ? {}
      : {
          parachute: {
            opensIn: given(parachute.opensIn, 'the time in which the parachute opens (parachute: opens-in)').value,
            sinks: given(parachute.sinks, 'how fast the aircraft sinks under its parachute (parachute: sinks)').value,
          },
        }),
    ...(glideRatio === undefined ? {} : { glideRatio: glideRatio.value }),
  };
};

/** From the planned path to the edge of the flight geography, sideways and up: half of the least that it has to be. */
export const halfGeography = ({ size }: VolumeCraft): Metres => metres((GEOGRAPHY_SIZES * size) / 2);

/** What the contingency volume is made of sideways, in metres. */
export interface Sideways {
  readonly errors: number;
  readonly reaction: number;
  /** The stop of a multirotor, or the turn about of a fixed wing. */
  readonly manoeuvre: number;
}

/** S_CV = S_GNSS + S_pos + S_map + S_react + S_CM, at a speed over the ground. */
export const contingencySideways = ({ kind, bank }: VolumeCraft, speed: MetresPerSecond): Sideways => {
  const slope = Math.tan((bank * Math.PI) / 180);
  const turn = (speed * speed) / (GRAVITY * slope);
  return {
    errors: POSITION_ERRORS,
    reaction: speed * REACTION,
    manoeuvre: speed === 0 ? 0 : kind === 'multirotor' ? turn / 2 : turn,
  };
};

export const sumOf = ({ errors, reaction, manoeuvre }: Sideways): Metres => metres(errors + reaction + manoeuvre);

/** What H_CV has above H_FG: H_alt + H_react + H_CM. */
export const contingencyUpwards = ({ kind, altimeter }: VolumeCraft, speed: MetresPerSecond): Metres => {
  const squared = (speed * speed) / GRAVITY;
  return metres(
    HEIGHT_ERROR[altimeter] + UPWARDS * speed * REACTION + (kind === 'multirotor' ? squared / 2 : 0.3 * squared),
  );
};

/** The way that suits an aircraft where the plan names none. The ballistic one has to be named. */
export const usualBuffer = ({ kind, parachute, glideRatio }: VolumeCraft): BufferKind => {
  if (parachute !== undefined) return 'parachute';
  return kind === 'fixed-wing' && glideRatio !== undefined ? 'glide' : '1:1';
};

/**
 * S_GRB, from the edge of the contingency volume outwards, at its upper end H_CV above ground. `wind` counts under a
 * parachute only. A craft that has not what the way takes has to keep 1:1.
 */
export const groundRiskBuffer = (
  craft: VolumeCraft,
  by: BufferKind,
  top: MetresAboveGround,
  speed: MetresPerSecond,
  wind: () => MetresPerSecond,
): Metres => {
  const { kind, size, parachute, glideRatio } = craft;
  const height = Math.max(0, top);
  if (by === 'ballistic' && kind === 'multirotor') {
    return metres(speed * Math.sqrt((2 * height) / GRAVITY) + size / 2);
  }
  if (by === 'parachute' && parachute !== undefined) {
    return metres(speed * parachute.opensIn + (wind() * height) / parachute.sinks);
  }
  if (by === 'glide' && glideRatio !== undefined) return metres(glideRatio * height);
  return metres(height + size / 2);
};

/** H_CV: the upper end of the contingency volume over a flight geography that reaches up to `geography`. */
export const contingencyTop = (
  craft: VolumeCraft,
  geography: MetresAboveGround,
  speed: MetresPerSecond,
): MetresAboveGround => aboveGround(geography + contingencyUpwards(craft, speed));

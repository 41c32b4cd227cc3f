import type { Metres, MetresAboveGround, MetresAboveSea, MetresPerSecond, Seconds, Share } from './frames.ts';

type Measured = Metres | MetresAboveGround | MetresAboveSea | MetresPerSecond | Seconds;

/**
 * Differences below this are the arithmetic's, not the pilot's: 1 mm, 1 mm/s. Four hundred feet written over ground at
 * any elevation must compare as four hundred feet, although the round trip through the sea level loses up to 7e-14 m.
 */
const TOLERANCE = 0.001;
const TIME_TOLERANCE = 0.1;

/** Whether a measured value is beyond a limit that the value itself may still reach. Same unit and frame on both sides. */
export const exceeds = <T extends Measured>(value: T, limit: T): boolean => value - limit > TOLERANCE;

/** As `exceeds`, for times in seconds, where 0.1 s is the arithmetic's. */
export const lastsLongerThan = (value: Seconds, limit: Seconds): boolean => value - limit > TIME_TOLERANCE;

/** A thousandth of a percent. */
const SHARE_TOLERANCE = 0.00001;

/** As `exceeds`, for shares of a whole, where 0.001 % is the arithmetic's. */
export const takesMoreThan = (value: Share, limit: Share): boolean => value - limit > SHARE_TOLERANCE;

/** Whether a measured value falls short of a least value that it may still equal. */
export const fallsShortOf = <T extends Measured>(value: T, least: T): boolean => least - value > TOLERANCE;

/** What differs by less than this differs by rounding only. */
const ROUNDING = 1e-6;

/**
 * Whether a number beats the best one so far. Of values that are equal but for rounding the first stays: a leg and the
 * same leg flown back must not change places with the last digit of a longitude or with another engine's sine.
 */
export const outdoes = (value: number, best: number): boolean => value - best > ROUNDING;

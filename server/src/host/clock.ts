import { type Instant, instant } from '../units/frames.ts';

/** The time of the machine's clock. Everything else gets the time handed in. */
export const clockNow = (): Instant => instant(Date.now());

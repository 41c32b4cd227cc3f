import type { Span, Written } from '../text/span.ts';
import type { Metres, Seconds } from '../units/frames.ts';
import type { Amount } from './model.ts';

/**
 * A camera that looks straight down. Across and along are meant to the direction of flight, so that how it is mounted is
 * said by where its numbers stand.
 */
export interface Camera {
  readonly span: Span;
  readonly sensorAcross?: Amount<Metres>;
  readonly sensorAlong?: Amount<Metres>;
  /** Pixels. */
  readonly imageAcross?: Written<number>;
  readonly imageAlong?: Written<number>;
  readonly focalLength?: Amount<Metres>;
  /** How long the shutter is open. */
  readonly shutter?: Amount<Seconds>;
  /** How long the craft stops for each photo; absent where it flies on. */
  readonly stops?: Amount<Seconds>;
}

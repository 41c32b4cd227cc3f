import { aboveGround, type MetresAboveGround } from '../units/frames.ts';

/** What a mended leg has to keep: no higher than `most`, and higher than `least`, both above ground. */
export interface HeightBand {
  readonly least: MetresAboveGround;
  readonly most: MetresAboveGround;
}

/** Height that a mend leaves above the ground: common practice, no source. */
export const CLEARANCE = aboveGround(10);

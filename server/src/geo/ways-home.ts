import { aboveSea, type LonLat } from '../units/frames.ts';
import type { Fan, FanSheet } from './fan.ts';
import type { LegPath } from './geodesy.ts';
import type { Interval } from './interval.ts';

/** Least and greatest altitude at which the ways home from a stretch are flown. */
export type LevelsOf = (stretch: Interval) => { readonly least: number; readonly greatest: number };

const level = (altitude: number, slack: number): FanSheet => ({ altitude: () => aboveSea(altitude), slack });

/** The ways home from every place of a path: straight over the ground, each at one altitude above the sea. */
export const waysHome = (home: LonLat, path: LegPath, levels: LevelsOf): Fan => ({
  apex: home,
  path,
  below: (stretch: Interval) => {
    const { least, greatest } = levels(stretch);
    return level(least, greatest - least);
  },
  above: (stretch: Interval) => {
    const { least, greatest } = levels(stretch);
    return level(greatest, greatest - least);
  },
});

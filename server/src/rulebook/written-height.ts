import type { WrittenHeight } from '../plan/model.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { sayNumber } from '../units/say.ts';
import type { Fix } from './finding.ts';

/** Decimals of a number as it was written, so that a mend keeps the pilot's precision. */
const decimalsOf = (height: WrittenHeight): number => sayNumber(height.number, 4).split('.')[1]?.length ?? 0;

/** `112 m AGL`: a number in the unit and datum of a height that is already in the plan. */
export const sayInItsWords = (height: WrittenHeight, number: number): string =>
  `${sayNumber(number, decimalsOf(height))} ${height.unit} ${height.datum}`;

const step = (height: WrittenHeight): number => 10 ** -decimalsOf(height);

/** The largest number of the height's own precision that lies at least `metres` lower. */
const lowered = (height: WrittenHeight, metres: number): number => {
  const grain = step(height);
  const wanted = height.number - metres / LENGTH_UNITS[height.unit];
  // The grain's own rounding must not let 400 ft come out as 399.9999.
  return Math.floor(wanted / grain + 1e-6) * grain;
};

/** The smallest number of the height's own precision that lies at least `metres` higher. */
const raised = (height: WrittenHeight, metres: number): number => {
  const grain = step(height);
  const wanted = height.number + metres / LENGTH_UNITS[height.unit];
  return Math.ceil(wanted / grain - 1e-6) * grain;
};

/** Metres by which a fix really changes a height, after rounding to the height's own precision. */
export const loweringOf = (height: WrittenHeight, metres: number): number =>
  (height.number - lowered(height, metres)) * LENGTH_UNITS[height.unit];

export const raisingOf = (height: WrittenHeight, metres: number): number =>
  (raised(height, metres) - height.number) * LENGTH_UNITS[height.unit];

const change = (verb: 'Lower' | 'Raise', name: string, height: WrittenHeight, number: number): Fix => {
  const text = sayInItsWords(height, number);
  return {
    title: `${verb} ${name} to ${text} (was ${sayInItsWords(height, height.number)})`,
    effect: 'changes-flight',
    edits: [{ span: height.span, text }],
  };
};

/** "Lower ridge to 112 m AGL (was 125 m AGL)": by at least so many metres, in the pilot's own unit, datum and precision. */
export const lowerBy = (name: string, height: WrittenHeight, metres: number): Fix =>
  change('Lower', name, height, lowered(height, metres));

export const raiseBy = (name: string, height: WrittenHeight, metres: number): Fix =>
  change('Raise', name, height, raised(height, metres));

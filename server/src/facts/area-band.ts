import type { Item, WrittenHeight } from '../plan/model.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { given } from './fact.ts';

/** The two heights between which an area is flown by hand, as written. */
export interface AreaBand {
  readonly lower: WrittenHeight;
  readonly upper: WrittenHeight;
}

const inMetres = (height: WrittenHeight): number => height.number * LENGTH_UNITS[height.unit];

/** Metres between two heights in one datum; undefined where the ground between them counts, too. */
export const roomBetween = ({ lower, upper }: AreaBand): number | undefined =>
  lower.datum === upper.datum ? inMetres(upper) - inMetres(lower) : undefined;

/** Heights that were written the wrong way round are taken the right way: what is too high is then found all the same. */
export const bandOf = (item: Item): AreaBand => {
  const from = given(item.area?.from, `the lower height of ${item.id.value}`);
  const to = given(item.area?.to, `the upper height of ${item.id.value}`);
  const asWritten = { lower: from, upper: to };
  return (roomBetween(asWritten) ?? 0) < 0 ? { lower: to, upper: from } : asWritten;
};

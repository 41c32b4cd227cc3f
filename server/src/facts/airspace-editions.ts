import { sayTime } from '../units/calendar.ts';
import { isMissing, type Missing } from '../world/world.ts';
import type { FactTools } from './fact.ts';

/**
 * Airspace files that do not hold for the whole of the window. Their zones still count; that there is none proves
 * nothing. The edition that follows one can be had when that one ends, at the latest.
 */
export const outsideEditions = ({ plan, world }: FactTools): readonly Missing[] => {
  const from = plan.window?.from?.value;
  const until = plan.window?.until?.value;
  if (from === undefined || until === undefined || isMissing(world.airspace)) return [];
  const say = (at: Parameters<typeof sayTime>[0]['at']): string => sayTime({ at, offsetMinutes: from.offsetMinutes });
  return (world.airspace.holds ?? []).flatMap((file): readonly Missing[] => {
    if (file.until !== undefined && file.until < until.at) {
      return [{ missing: `airspace "${file.reference}" holds until ${say(file.until)} only`, due: file.until }];
    }
    if (file.from !== undefined && file.from > from.at) {
      return [{ missing: `airspace "${file.reference}" does not hold before ${say(file.from)}` }];
    }
    return [];
  });
};

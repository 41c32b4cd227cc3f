import type { TimeBand } from '../facts/timeline.ts';
import type { Plan } from '../plan/model.ts';
import { sayTime } from '../units/calendar.ts';
import type { Neighbour } from '../world/neighbour.ts';

/** "between 2026-06-14 06:40 -07:00 and 2026-06-14 07:10 -07:00", in the plan's own time. */
export const sayTogether = ({ earliest, latest }: TimeBand, { window }: Plan): string => {
  const offsetMinutes = window?.from?.value.offsetMinutes ?? 0;
  return `between ${sayTime({ at: earliest, offsetMinutes })} and ${sayTime({ at: latest, offsetMinutes })}`;
};

export const sayNeighbour = ({ reference }: Neighbour): string => `the plan "${reference}"`;

/** What two plans on one site are held against each other by, for the condition of a rule. */
export const TOGETHER =
  'Only plans named under `alongside` count. Two flights are at one time where the windows, the times flown and the changes of battery leave it open that both are in the air.';

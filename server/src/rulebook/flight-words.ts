import type { FactTools } from '../facts/fact.ts';
import type { Turning } from '../facts/turning-back.ts';
import type { Flight } from '../plan/model.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

/** `flight 2`, or `the flight` where the plan has one only. */
export const sayFlight = (flight: Flight, { plan }: Pick<FactTools, 'plan'>): string =>
  plan.flights.length > 1 ? `flight ${flight.number}` : 'the flight';

/** `5.2 min`, `40 s` */
export const sayMinutes = (seconds: number, decimals = 1): string =>
  seconds < 60 ? `${sayNumber(seconds, decimals)} s` : `${sayNumber(seconds / 60, decimals)} min`;

/** `leg mill to weir, 320 m along` */
export const sayTurning = ({ subject, along }: Turning): string =>
  along === undefined ? subject : `${subject}, ${sayDistance(along)} along`;

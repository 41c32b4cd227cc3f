import { type EnergySupply, sayEnergy } from '../facts/energy-supply.ts';
import type { FactTools } from '../facts/fact.ts';
import { flightEnergy } from '../facts/flight-energy.ts';
import { orLacking, type Partly } from '../facts/lacking.ts';
import type { Reserve } from '../facts/reserve-policy.ts';
import { type Turning, turningBack } from '../facts/turning-back.ts';
import type { Flight } from '../plan/model.ts';
import { takesMoreThan } from '../units/exceeds.ts';
import { type Share, share } from '../units/frames.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import type { Judgement } from './finding.ts';
import { sayFlight, sayTurning } from './flight-words.ts';

/** What is left of the usable energy at the landing that leaves least: the planned one, or one after turning back. */
export interface LandingEnergy extends Partly {
  readonly supply: EnergySupply;
  readonly left: Share;
  /** Where it turned back; absent for the planned landing. */
  readonly after?: Turning;
}

/** Undefined for a flight whose energy does not suffice, which is told as that. */
export const leastAtLanding = (flight: Flight, tools: FactTools): LandingEnergy | undefined => {
  const { supply, used, lacking } = tools.ask(flightEnergy, flight);
  if (takesMoreThan(used, share(1))) return undefined;
  const planned = share(1 - used);
  const back = orLacking(() => tools.ask(turningBack, flight));
  if (isMissing(back)) return { supply, left: planned, lacking: [...lacking, back] };
  const { tightest } = back.known;
  const turned = tightest === undefined ? planned : share(tightest.left - tightest.way.energy);
  // Of equal ones the planned landing is told; not to get down at all is told as that.
  if (tightest === undefined || turned < 0 || !takesMoreThan(planned, turned)) {
    return { supply, left: planned, lacking: back.known.lacking };
  }
  return { supply, left: turned, after: tightest, lacking: back.known.lacking };
};

/** The finding or the margin of a reserve. */
export const judgeReserve = (flight: Flight, reserve: Reserve, landing: LandingEnergy, tools: FactTools): Judgement => {
  const { supply, left, after } = landing;
  const name = sayFlight(flight, tools);
  const measured = { value: left * 100, unit: '%' } as const;
  const limit = { value: reserve.value * 100, unit: '%', setBy: reserve.setBy } as const;
  const at = flight.first.id.span;
  const place = after && { at: after.at, ...(after.along !== undefined && { alongM: after.along }) };
  const where = place === undefined ? {} : { place };
  if (!takesMoreThan(reserve.value, left)) {
    return { margin: { subject: name, at, measured, limit, room: (left - reserve.value) * 100, ...where } };
  }
  const decimals = decimalsToTell(left * 100, reserve.value * 100);
  const how = after === undefined ? '' : `, turning back on ${sayTurning(after)},`;
  return {
    found: {
      at,
      subject: name,
      message: `${name}${how} lands${after === undefined ? '' : ` at ${after.way.to.item.id.value}`} with ${sayEnergy(supply, left, decimals)} of the usable energy; ${reserve.setBy} asks for at least ${sayNumber(reserve.value * 100, decimals)} %`,
      measured,
      limit,
      ...where,
      related: [{ at: reserve.at, message: 'the reserve stands here' }],
    },
  };
};

import type { Flight, Leg } from '../plan/model.ts';
import { defineFact, type FactTools } from './fact.ts';

/**
 * The legs that the craft flies, in their order. Whatever walks a flight asks for these and not for the legs of the text,
 * so that an item which stands for many legs is flown like any other.
 */
export const flownLegs = defineFact({
  name: 'flown-legs',
  derive: (flight: Flight, _tools: FactTools): readonly Leg[] => flight.legs,
});

import type { FactTools } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { orLacking } from '../facts/lacking.ts';
import { legTime } from '../facts/leg-time.ts';
import { legWaysDown } from '../facts/way-home.ts';
import type { Flight } from '../plan/model.ts';
import type { Judgement } from './finding.ts';

/** Legs that are worked out in one step. */
const AT_ONCE = 16;

/**
 * Has the parts of a long flight worked out that facts about the whole of it are summed up from, with pauses, so that those
 * facts find them done: a survey has thousands of legs.
 */
export function* legByLeg(flight: Flight, { ask }: FactTools): Generator<Judgement, void> {
  let count = 0;
  for (const leg of ask(flownLegs, flight)) {
    orLacking(() => ask(legTime, leg));
    orLacking(() => ask(legWaysDown, leg));
    if (++count % AT_ONCE === 0) yield { pause: true };
  }
}

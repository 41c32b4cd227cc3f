import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Share } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';

/** What is to be left of the usable energy at every landing, and who asks for it. */
export interface Reserve {
  readonly value: Share;
  /** "this plan (reserve)" */
  readonly setBy: string;
  readonly at: Span;
}

/** The greater reserve of the plan and of the aircraft file. That of the house stands by itself. */
export const reservePolicy = defineFact({
  name: 'reserve-policy',
  derive: (plan: Plan, { world, settings }: FactTools): Reserve | undefined => {
    const ofAircraft = isMissing(world.aircraft) ? undefined : world.aircraft.reserve;
    const known = [
      ...(plan.reserve === undefined ? [] : [{ amount: plan.reserve, setBy: 'this plan (reserve)' }]),
      ...(ofAircraft === undefined ? [] : [{ amount: ofAircraft, setBy: 'the aircraft file (reserve)' }]),
    ].sort((one, other) => other.amount.value - one.amount.value);
    const [greatest] = known;
    if (greatest !== undefined) {
      const { amount, setBy } = greatest;
      return { value: amount.value, setBy, at: amount.span };
    }
    if (settings.limits.reserve !== undefined) return undefined;
    throw new NotAssessed(
      isMissing(world.aircraft)
        ? `the plan gives no reserve, and ${world.aircraft.missing}`
        : 'neither the plan nor the aircraft file nor the house says how much energy is to be left at the landing (reserve)',
    );
  },
});

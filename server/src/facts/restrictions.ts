import type { Flight, Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type Notice, readNotice } from '../world/notice.ts';
import { airspaceOf } from '../world/zones-in-box.ts';
import { defineFact, type FactTools } from './fact.ts';
import { entriesAtItem } from './volume-zones.ts';
import { entriesOnLeg } from './zone-entries.ts';
import { type FlightZones, visitsOf } from './zone-visits.ts';

/** A notice of the plan, and where it stands there. */
export interface WrittenNotice extends Notice {
  readonly written: Span;
}

/** The notices of the plan that are in force: without those that another one of them replaces or cancels. */
export const knownNotices = defineFact({
  name: 'known-notices',
  derive: (plan: Plan): readonly WrittenNotice[] => {
    if (plan.restrictions?.kind !== 'notices') return [];
    const notices = plan.restrictions.notices.map(
      (text): WrittenNotice => ({ ...readNotice(text.value), written: text.span }),
    );
    const ended = new Set(notices.flatMap(({ ends }) => ends ?? []));
    return notices.filter(({ name }) => !ended.has(name));
  },
});

/** What of a flight lies where notices restrict it, or may do so. */
export const flightRestrictions = defineFact({
  name: 'flight-restrictions',
  derive: (flight: Flight, tools: FactTools): FlightZones => {
    const zones = tools.ask(knownNotices, tools.plan).flatMap((notice) => notice.zones);
    if (zones.length === 0) return { zones: [], lacking: [] };
    const airspace = airspaceOf(zones);
    return visitsOf(
      flight,
      {
        onLeg: (leg) => entriesOnLeg(leg, airspace, tools),
        atItem: (item) => entriesAtItem(item, airspace, tools),
      },
      tools,
    );
  },
});

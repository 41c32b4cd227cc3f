import type { Flight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { type Metres, metres } from '../units/frames.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import { farPlaces } from './farthest-from-watchers.ts';
import type { Partly } from './lacking.ts';

/**
 * The share of a link's rated range that is flown in: ratings are measured in the open, and an antenna that points the
 * wrong way, a damp wood or a busy band take half of it. Common practice, no source: between a half and 0.7.
 */
export const USED_SHARE = 0.7;

/** Whether every link reaches as far is not asked up to here, in metres: common practice, no source. */
export const EVERY_LINK = metres(500);

export interface LinkUse extends Partly {
  /** The place of a leg or area that is farthest from the pilot; undefined where none is known. */
  readonly farthest: { readonly subject: string; readonly written: Span; readonly range: Metres } | undefined;
  /** As rated by the maker; undefined where the aircraft file does not say it. */
  readonly rated: Metres | undefined;
}

/** How far from the pilot a flight gets, and how far its link is rated to reach. */
export const linkUse = defineFact({
  name: 'link-use',
  derive: (flight: Flight, tools: FactTools): LinkUse => {
    const { places, lacking } = tools.ask(farPlaces, flight);
    const all = places.flatMap(({ subject, written, ranges }) =>
      ranges.filter(({ watcher }) => watcher.member.role === 'pilot').map(({ range }) => ({ subject, written, range })),
    );
    const farthest = all.reduce<(typeof all)[number] | undefined>(
      (best, one) => (best === undefined || one.range > best.range ? one : best),
      undefined,
    );
    return { farthest, rated: present(tools.world.aircraft).linkRange?.value, lacking };
  },
});

import type { Span, Written } from '../text/span.ts';
import type { CalendarDate } from '../units/calendar.ts';
import type { LonLat } from '../units/frames.ts';

/** Who flies and who watches, by role. */
export interface Crew {
  readonly span?: Span;
  readonly pilot?: CrewMember;
  readonly observers: readonly CrewMember[];
}

export interface CrewMember {
  readonly span: Span;
  readonly role: 'pilot' | 'observer';
  readonly name?: Written<string>;
  /** A position, or the word `take-off` (beside the take-off place); an observer may stand `beside pilot`. */
  readonly stands?: Written<LonLat | 'take-off' | 'beside pilot'>;
  /** The certificate or proof held, in words. */
  readonly held?: Written<string>;
  readonly tested?: Written<CalendarDate>;
  readonly seenBy?: Written<string>;
  /** `unaided` eyes or `goggles`. */
  readonly watches?: Written<'unaided' | 'goggles'>;
  readonly talksBy?: Written<string>;
  /** Of the pilot: what moves under the pilot's feet; absent = nothing. */
  readonly moves?: Written<'land vehicle' | 'boat' | 'aircraft'>;
}

import type { Span, Written } from '../text/span.ts';
import type { Metres } from '../units/frames.ts';
import type { Amount, AreaShape, Statement } from './model.ts';
import type { FileReference } from './references.ts';

/**
 * What a piece of ground holds. `assembly`: so many that they cannot get away from each other; `road`: traffic moves on
 * it; `closed site`: only those may enter who are let in; the four land uses are those of UAS.OPEN.040(2).
 */
export const PEOPLE_KINDS = [
  'assembly',
  'people',
  'residential',
  'commercial',
  'industrial',
  'recreational',
  'road',
  'closed site',
] as const;
export type PeopleKind = (typeof PEOPLE_KINDS)[number];

/**
 * What sets the people of an area apart; without one of these they take no part and stand in the open. `participant`:
 * they take part directly; `under cover`: under a roof or in a parked vehicle; `notified`: told that an aircraft may fly.
 */
export const PEOPLE_STATUSES = ['participant', 'under cover', 'notified'] as const;
export type PeopleStatus = (typeof PEOPLE_STATUSES)[number];

/** What is known of people below: the crew's statement, areas in files and areas listed in the plan, or some of these. */
export interface People extends Statement {
  readonly noneWithin?: Amount<Metres>;
  /** No residential, commercial, industrial or recreational area is nearer than this. */
  readonly noAreasWithin?: Amount<Metres>;
  readonly files: readonly FileReference[];
  readonly listed: readonly ListedPeople[];
  readonly lowSpeedMode?: LowSpeedMode;
}

export interface ListedPeople {
  readonly span: Span;
  readonly name: Written<string>;
  readonly kind?: Written<PeopleKind>;
  readonly status?: Written<PeopleStatus>;
  readonly inside?: AreaShape;
}

export const LOW_SPEED_MATTERS = ['weather', 'performance', 'segregation'] as const;
export type LowSpeedMatter = (typeof LOW_SPEED_MATTERS)[number];

/** That the pilot flies near people in low-speed mode, and what was evaluated for it: UAS.OPEN.030(1). */
export interface LowSpeedMode {
  readonly span: Span;
  readonly evaluated: readonly Written<LowSpeedMatter>[];
  readonly by?: Written<string>;
}

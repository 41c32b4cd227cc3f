import type { Box } from '../geo/box.ts';
import type { Shape } from '../geo/shape.ts';
import type { PeopleKind, PeopleStatus } from '../plan/people.ts';
import type { Missing } from './world.ts';

/** Ground on which people are, or traffic, or a use of the land from which a rule keeps distance. */
export interface PeopleArea {
  readonly name: string;
  readonly kind: PeopleKind;
  /** Absent = they take no part and stand in the open. */
  readonly status?: PeopleStatus;
  readonly shape: Shape;
  readonly box: Box;
}

/** Areas from files; those listed in the plan are in the plan. */
export interface PeopleLayer {
  readonly areas: readonly PeopleArea[];
  /** Why areas may be lacking although some are there: what is found counts, what is not found proves nothing. */
  readonly incomplete?: Missing;
}

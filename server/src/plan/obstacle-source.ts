import type { Span, Written } from '../text/span.ts';
import type { CalendarDate } from '../units/calendar.ts';
import type { Metres } from '../units/frames.ts';
import type { Amount, Statement, WrittenHeight, WrittenPosition } from './model.ts';
import type { FileReference } from './references.ts';

export type ObstacleSource = ObstacleStatement | ObstacleList;

/** `obstacles: { none-above: 20 m AGL, seen: ..., by: ... }` */
export interface ObstacleStatement extends Statement {
  readonly kind: 'statement';
  readonly noneAbove?: WrittenHeight;
}

export interface ObstacleList {
  readonly kind: 'list';
  readonly span: Span;
  readonly files: readonly FileReference[];
  readonly listed: readonly ListedObstacle[];
  readonly requests: readonly StructureRequest[];
}

/** Whoever answers for a structure has asked for the flight: (EU) 2019/947 UAS.OPEN.010(3). */
export interface StructureRequest {
  readonly span: Span;
  readonly for?: Written<string>;
  readonly of?: Written<string>;
  readonly given?: Written<CalendarDate>;
}

export interface ListedObstacle {
  readonly span: Span;
  readonly name: Written<string>;
  readonly at?: WrittenPosition;
  readonly top?: WrittenHeight;
  readonly radius?: Amount<Metres>;
  readonly footprint?: readonly WrittenPosition[];
  /** Where it stands in the text; there without `footprint` it could not be read. */
  readonly footprintSpan?: Span;
  readonly structure?: Written<'yes' | 'no'>;
  readonly guyWires?: Written<'yes' | 'no'>;
}

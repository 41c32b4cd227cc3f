import type { Span, Written } from '../text/span.ts';
import type { CalendarDate } from '../units/calendar.ts';
import type { AreaShape, DateOrTime, WrittenHeight } from './model.ts';

export interface Authorisation {
  readonly span: Span;
  readonly number?: Written<string>;
  readonly zone?: Written<string>;
  /** Of a waiver: the sections it waives, as written. */
  readonly sections: readonly Written<string>[];
  /** The day it was issued. */
  readonly issued?: Written<CalendarDate>;
  readonly upTo?: WrittenHeight;
  readonly from?: Written<DateOrTime>;
  readonly until?: Written<DateOrTime>;
  readonly holder?: Written<string>;
  readonly conditions: readonly Written<string>[];
  /** Where it holds; absent = in the whole of its zone. */
  readonly area?: AreaShape;
  /** Where it stands in the text; there without `area` it could not be read. */
  readonly areaSpan?: Span;
  /** The grid whose cells say up to which height it holds. */
  readonly grid?: Written<string>;
  /** Whether its height grows beside structures as the law's own limit does. */
  readonly aboveStructures?: Written<'yes' | 'no'>;
  /** Of one for the whole operation in the specific category; absent = it is for a zone, or waives a section. */
  readonly kind?: Written<OperationPaper>;
  /** What has to stay within its area and height. */
  readonly bounds?: Written<'flight geography' | 'operational volume'>;
}

/** Papers for an operation in the specific category: (EU) 2019/947 Art. 5(5), 12, UAS.LUC.010. */
export const OPERATION_PAPERS = [
  'operational authorisation',
  'operational declaration',
  'operator certificate',
] as const;
export type OperationPaper = (typeof OPERATION_PAPERS)[number];
